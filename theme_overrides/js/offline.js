// Has the programme of this page kept on the device, and says so in the footer. The worker (worker/sw.js) does the
// work; without one, or without https, nothing happens.

const SAVED = "The current phase is saved on this device and works without a network.";
const SAVE = "Save the current phase for use without a network";
const NEWER = "There are newer pages: ";
const SHOW = "show them";

/** @typedef {{ build: string | null, kept: boolean }} Answer of the worker */
/** @typedef {(wish?: "keep" | "look") => Promise<Answer>} Ask */

/** @param {HTMLElement} foot */
export async function keep(foot) {
  if (!navigator.serviceWorker) return;
  await atRest();
  const registration = await registered();
  const programme = foot.dataset.keep;
  /** @type {Ask} */
  const ask = (wish) => answerOf(/** @type {ServiceWorker} */ (registration.active), { programme, wish });
  const first = await ask();
  const said = first.kept ? await known(foot, ask) : await fresh(foot, ask);
  offerNewer(foot, ask, said.build);
}

/** Once the page is there and the device has nothing else to do. */
async function atRest() {
  if (document.readyState !== "complete") {
    await new Promise((go) => addEventListener("load", () => go(null), { once: true }));
  }
  await new Promise((go) => (window.requestIdleCallback ?? setTimeout)(go));
}

async function registered() {
  const marked = /** @type {HTMLElement} */ (document.querySelector("[data-root]"));
  const root = new URL(marked.dataset.root ?? "", location.href);
  /** @type {RegistrationOptions} */
  const options = { scope: root.pathname, updateViaCache: "none" };
  const registration = await navigator.serviceWorker.register(new URL("sw.js", root), options);
  registration.waiting?.postMessage({ wish: "take over" });
  await navigator.serviceWorker.ready;
  return registration;
}

/**
 * @param {ServiceWorker} worker
 * @param {object} message
 * @returns {Promise<Answer>}
 */
function answerOf(worker, message) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage(message, [port2]);
  });
}

/**
 * It was saved before: that is said without a voice. The next phase may be still to come.
 * @param {HTMLElement} foot
 * @param {Ask} ask
 */
function known(foot, ask) {
  line(foot).textContent = SAVED;
  return ask("keep");
}

/**
 * It is to be saved now: the change is told to those who hear the page, too.
 * @param {HTMLElement} foot
 * @param {Ask} ask
 */
async function fresh(foot, ask) {
  const place = line(foot);
  place.setAttribute("role", "status");
  // Who asked the browser to save data decides about these.
  if (/** @type {any} */ (navigator).connection?.saveData) await pressed(place);
  const said = await ask("keep");
  place.textContent = said.kept ? SAVED : "";
  return said;
}

/** @param {HTMLElement} foot */
function line(foot) {
  return foot.appendChild(document.createElement("p"));
}

/** @param {HTMLElement} place */
function pressed(place) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = SAVE;
  place.append(button);
  return new Promise((go) => button.addEventListener("click", go));
}

/**
 * A window may stay open for weeks: when it is looked at again, it looks for a newer build.
 * @param {HTMLElement} foot
 * @param {Ask} ask
 * @param {string | null} build
 */
function offerNewer(foot, ask, build) {
  /** @type {HTMLElement | null} */
  let place = null;
  document.addEventListener("visibilitychange", async () => {
    if (document.hidden || place) return;
    const said = await ask("look");
    if (!build || !said.build || said.build === build || place) return;
    place = line(foot);
    place.setAttribute("role", "status");
    const link = document.createElement("a");
    link.href = location.pathname + location.search;
    link.textContent = SHOW;
    place.append(NEWER, link);
  });
}
