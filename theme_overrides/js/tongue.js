// What scripts add of the club's words is in the club's language, as it is in the page that was built. Only pages of a
// club that writes in another language than the interface's load it.

const THEIRS = "[dir=auto]:not([lang], input, textarea), bdi:not([lang])";

/** @param {string} language */
function speak(language) {
  /** @param {ParentNode} within */
  const mark = (within) => {
    for (const one of /** @type {NodeListOf<HTMLElement>} */ (within.querySelectorAll(THEIRS))) one.lang = language;
  };
  mark(document);
  new MutationObserver((changes) => {
    for (const { addedNodes, target } of changes) {
      if (addedNodes.length && target instanceof Element) mark(target);
    }
  }).observe(document.documentElement, { childList: true, subtree: true });
}

const { language } = document.documentElement.dataset;
if (language) speak(language);
