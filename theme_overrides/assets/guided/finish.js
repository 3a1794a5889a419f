// The end of a session: what was done, how hard it felt, a note. The log has the stations already.

import { EFFORT } from "../log/effort.js";

const MARKUP = `
<h2 tabindex="-1"></h2>
<p data-told></p>
<form>
<fieldset class="effort"><legend>How hard did the whole session feel?</legend></fieldset>
<label class="note">Note <textarea name="note" rows="3" maxlength="2000"></textarea></label>
<p class="keys"><button type="submit" class="go">Save</button> <button type="button" data-back>Back to the session</button></p>
</form>`;

/**
 * Shows the form in place of the session. told: {title, words} of what was done. save({effort, note}) is called with
 * effort 0 to 10, or null; back() when the session is not over after all.
 */
export function showFinish(main, { title, words, effort, note }, save, back) {
  const section = document.createElement("section");
  section.className = "guide finish";
  section.setAttribute("aria-label", "End of the session");
  section.innerHTML = MARKUP;
  section.querySelector("h2").textContent = title;
  section.querySelector("[data-told]").textContent = words;
  const scale = section.querySelector(".effort");
  for (const [value, word] of EFFORT) scale.append(choice(value, word, effort));
  const form = section.querySelector("form");
  form.elements.note.value = note;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const chosen = form.elements.effort.value;
    save({ effort: chosen === "" ? null : Number(chosen), note: form.elements.note.value.trim() });
  });
  section.querySelector("[data-back]").addEventListener("click", back);
  main.prepend(section);
  section.querySelector("h2").focus();
  return section;
}

function choice(value, word, effort) {
  const label = document.createElement("label");
  const input = document.createElement("input");
  input.type = "radio";
  input.name = "effort";
  input.value = value;
  input.checked = value === effort;
  const number = document.createElement("b");
  number.textContent = value;
  label.append(input, number, word ? ` ${word}` : "");
  return label;
}
