// Words to look up: found in a text, and made buttons.

/**
 * Fills a place with a text in which the terms are buttons with `data-term`.
 * @param {HTMLElement} place
 * @param {string} text
 * @param {Record<string, string>} terms
 */
export function fill(place, text, terms) {
  const words = Object.keys(terms);
  if (!words.length) {
    place.textContent = text;
    return;
  }
  const found = new RegExp(`\\b(${words.map(escaped).join("|")})(?:s|es|d|ed)?\\b`, "gi");
  place.replaceChildren();
  let end = 0;
  for (const one of text.matchAll(found)) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "term";
    button.dataset.term = one[1].toLowerCase();
    button.textContent = one[0];
    place.append(text.slice(end, one.index), button);
    end = /** @type {number} */ (one.index) + one[0].length;
  }
  place.append(text.slice(end));
}

/** @param {string} word */
const escaped = (word) => word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
