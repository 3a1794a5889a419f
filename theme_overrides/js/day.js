// Rows of a day page: what is closed is still found by the browser's search, and opens where it is found.

/** @param {HTMLElement} main */
export function wake(main) {
  if (!("onbeforematch" in document.body)) return;
  /** @type {NodeListOf<HTMLDetailsElement>} */
  const rows = main.querySelectorAll("details.row");
  for (const row of rows) {
    const deep = /** @type {HTMLElement} */ (row.nextElementSibling);
    const follow = () => {
      if (row.open) deep.removeAttribute("hidden");
      else deep.setAttribute("hidden", "until-found");
    };
    row.addEventListener("toggle", follow);
    deep.addEventListener("beforematch", () => {
      row.open = true;
    });
    follow();
  }
}
