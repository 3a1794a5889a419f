// The page for a wrong address is shown in place of a page at any depth. Its links begin with the path of the club's
// public address; where the folder stands elsewhere, they lead past it. It is found by a file that only this build has.
// This script stands in the page itself, as nothing else could find it there.

(async () => {
  const MOST_FOLDERS = 8;
  const main = /** @type {HTMLElement} */ (document.getElementById("main"));
  const told = /** @type {string} */ (main.dataset.root);
  const scripts = /** @type {HTMLScriptElement[]} */ ([...document.querySelectorAll("script[src]")]);
  const own = /** @type {string} */ (scripts[0].getAttribute("src")).slice(told.length);

  /** @param {string} root */
  async function isHere(root) {
    try {
      const answer = await fetch(root + own, { method: "HEAD" });
      // Some hosts answer a wrong address with a page, and call it found.
      return answer.ok && /javascript/.test(answer.headers.get("content-type") ?? "");
    } catch {
      return false;
    }
  }

  /** @param {string} root */
  function move(root) {
    main.dataset.root = root;
    for (const name of ["href", "src"]) {
      for (const one of document.querySelectorAll(`[${name}^="${told}"]`)) {
        one.setAttribute(name, root + /** @type {string} */ (one.getAttribute(name)).slice(told.length));
      }
    }
    // A script that was not there is not asked for again.
    for (const one of scripts) {
      const again = document.createElement("script");
      again.type = "module";
      again.src = one.src;
      one.replaceWith(again);
    }
  }

  if (await isHere(told)) return;
  const folders = location.pathname.split("/").slice(0, MOST_FOLDERS);
  for (const last of folders.keys()) {
    const root = `${folders.slice(0, last + 1).join("/")}/`;
    if (await isHere(root)) {
      move(root);
      return;
    }
  }
})();
