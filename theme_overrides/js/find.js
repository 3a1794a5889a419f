// Finds exercises by their words.

/**
 * @param {string} selector
 * @returns {any[]}
 */
const all = (selector) => [...document.querySelectorAll(selector)];

/** @param {HTMLFormElement} form */
function findExercises(form) {
  const entries = all("[data-find]");
  const output = /** @type {HTMLOutputElement} */ (form.querySelector("output"));
  const field = /** @type {HTMLInputElement} */ (form.elements.namedItem("find"));
  const find = () => {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    let found = 0;
    for (const entry of entries) {
      entry.hidden = !words.every((word) => entry.dataset.find.includes(word));
      found += entry.hidden ? 0 : 1;
    }
    for (const group of all("[data-group]")) group.hidden = !group.querySelector("[data-find]:not([hidden])");
    output.textContent = words.length ? `${found} found` : "";
  };
  form.addEventListener("input", find);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.hidden = false;
}

if ("findLast" in Array.prototype) for (const form of all("form.find")) findExercises(form);
