// Brings the strips of figures for paper. They come lazily, and a browser that prints waits for no picture.
// Until they are here, a day prints without them rather than with holes.

const LONGEST = 6000;
/** @type {Promise<unknown> | undefined} */
let asked;
/** @type {Promise<unknown>} */
let printed = Promise.resolve();
/** @type {((value?: unknown) => void) | undefined} */
let end;

/** Fetch what is shown on paper; done when all is here, or when it takes too long. Never fails. */
export function ready() {
  asked ??= Promise.race([fetchAll(), new Promise((done) => setTimeout(done, LONGEST))]);
  return asked;
}

async function fetchAll() {
  /** @type {NodeListOf<HTMLImageElement>} */
  const found = document.querySelectorAll(".fig img:not(.moves)");
  const strips = [...found];
  await Promise.all(strips.map(fetched));
  // A browser counts its pages when it begins to print: what makes them longer then loses the last of them.
  await printed;
  document.body.classList.add("inked");
}

/**
 * One that does not come leaves no hole either.
 * @param {HTMLImageElement} picture
 */
async function fetched(picture) {
  picture.loading = "eager";
  try {
    await picture.decode();
  } catch {
    picture.closest(".fig")?.classList.add("gone");
  }
}

/** What tells that somebody is about to print: the keys for it, or the mouse on its way to the menu. */
export function watch() {
  addEventListener("keydown", (event) => {
    if (event.key.toLowerCase() !== "p" || !(event.ctrlKey || event.metaKey) || event.shiftKey || event.altKey) return;
    event.preventDefault();
    ready().then(() => print());
  });
  document.documentElement.addEventListener("mouseleave", ready, { once: true });
  addEventListener("beforeprint", begins);
  addEventListener("afterprint", ends);
  matchMedia("print").addEventListener("change", (event) => (event.matches ? begins() : ends()));
}

/** This script may wake when printing has begun, so either of the browser's two signs will do. */
function begins() {
  if (!end) printed = new Promise((done) => (end = done));
  ready();
}

function ends() {
  end?.();
  end = undefined;
}
