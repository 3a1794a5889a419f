// Shows the numbers of one level; without this every level stands below the other.

for (const form of /** @type {NodeListOf<HTMLFormElement>} */ (document.querySelectorAll("form[data-levels]"))) {
  const level = /** @type {HTMLSelectElement} */ (form.elements.namedItem("level"));
  const show = () => {
    for (const part of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-level]"))) {
      part.hidden = level.value !== "" && part.dataset.level !== level.value;
    }
  };
  form.addEventListener("change", show);
  form.addEventListener("submit", (event) => event.preventDefault());
  level.selectedIndex = Math.min(1, level.length - 1);
  form.hidden = false;
  show();
}
