// What is closed is still found by the browser's search, and opens where it is found.

/** @param {HTMLDetailsElement} row */
function letFind(row) {
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

if ("onbeforematch" in document.body) {
  /** @type {NodeListOf<HTMLDetailsElement>} */
  const rows = document.querySelectorAll("details.row");
  rows.forEach(letFind);
}
