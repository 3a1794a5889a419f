// The end of a session: what was done, how hard it felt, a note. The log has the stations already.

import { EFFORT } from "../log/effort.js";

const MARKUP = `
<h2 tabindex="-1"></h2>
<p data-told></p>
<p class="rule" data-hurts hidden></p>
<form>
<fieldset class="effort"><legend>How hard did the whole session feel?</legend></fieldset>
<label class="note">Note <textarea name="note" rows="3" maxlength="2000"></textarea></label>
<div class="says" role="status"></div>
<p class="keys"><button type="submit" class="go">Save</button> <button type="button" data-back>Back to the session</button></p>
</form>`;

/**
 * @typedef {object} Answers
 * @property {(answer: { effort: number | null, note: string }) => string} save
 * @property {() => void} saveFile
 * @property {() => void} back
 */

/**
 * Shows the form in place of the session. told: {title, words, hurts, effort, note} of what was done; `hurts` is the club's
 * line where something hurts, else null: there is no way back into the session then. save({effort, note}) is
 * called with effort 0 to 10, or null, and gives why it could not be kept; then saveFile() is offered. back() is called
 * when the session is not over after all.
 * @param {HTMLElement} main
 * @param {{ title: string, words: string, hurts: string | null, effort: number | null, note: string }} told
 * @param {Answers} answers
 */
export function showFinish(main, { title, words, hurts, effort, note }, { save, saveFile, back }) {
  const section = document.createElement("section");
  section.className = "guide finish";
  section.setAttribute("aria-label", "End of the session");
  section.innerHTML = MARKUP;
  const one = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (section.querySelector(selector));
  one("h2").textContent = title;
  one("[data-told]").textContent = words;
  one("[data-hurts]").hidden = hurts === null;
  one("[data-hurts]").textContent = `Tell an adult now, and show where it hurts. ${hurts ?? ""}`;
  one("[data-back]").hidden = hurts !== null;
  const scale = one(".effort");
  let chosen = effort;
  const show = () => {
    for (const button of scale.querySelectorAll("button")) {
      button.setAttribute("aria-pressed", String(button.value === String(chosen)));
    }
  };
  for (const [value, word] of EFFORT) {
    scale.append(
      choice(value, word, () => {
        chosen = chosen === value ? null : value;
        show();
      }),
    );
  }
  show();
  const form = one("form");
  const field = /** @type {HTMLTextAreaElement} */ (one("textarea"));
  field.value = note;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const refused = save({ effort: chosen, note: field.value.trim() });
    if (refused) tellRefusal(one(".says"), refused, saveFile);
  });
  one("[data-back]").addEventListener("click", back);
  main.querySelector(".about")?.after(section);
  one("h2").focus();
  return section;
}

/**
 * @param {Element} place
 * @param {string} why
 * @param {() => void} saveFile
 */
function tellRefusal(place, why, saveFile) {
  const box = document.createElement("div");
  const words = document.createElement("p");
  words.textContent = why;
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Save as a file";
  button.addEventListener("click", saveFile);
  box.append(words, button);
  place.replaceChildren(box);
}

/**
 * A button each, not one of a set: a switch may have no key to move within a set, and a wrong tap is taken back.
 * @param {number} value
 * @param {string} word
 * @param {() => void} choose
 */
function choice(value, word, choose) {
  const button = document.createElement("button");
  button.type = "button";
  button.value = String(value);
  const number = document.createElement("b");
  number.textContent = String(value);
  button.append(number, word ? ` ${word}` : "");
  button.addEventListener("click", choose);
  return button;
}
