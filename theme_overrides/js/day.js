// Wakes a day page: one session of its week and level. Loaded before the page is shown.

import "./folds.js";
import { ownDay, today, weekOn } from "./dates.js";
import { behindIn, home, read, write } from "./store.js";

/**
 * @param {string} selector
 * @param {ParentNode} root
 * @returns {any[]}
 */
const all = (selector, root) => [...root.querySelectorAll(selector)];

/**
 * @param {HTMLElement} main
 * @param {number} day
 */
function pickSession(main, day) {
  const form = /** @type {HTMLFormElement} */ (main.querySelector("form.pick"));
  const { week, level } = /** @type {any} */ (form.elements);
  const weeks = Number(main.dataset.weeks);
  const key = `level ${home()}${main.dataset.programme}`;
  const remembered = read(key);
  if (all("option", level).some((option) => option.value === remembered)) level.value = remembered;
  const behind = behindIn(main);
  week.value = Math.min(Math.max(weekOn(ownDay(day, behind), main.dataset.starts ?? ""), 1), weeks);
  if (behind) week.labels[0].firstChild.textContent = "Your own week ";
  const show = () => {
    const cell = String(level.selectedIndex * weeks + Number(week.value) - 1);
    for (const part of all("[data-for]", main)) {
      part.hidden = !part.dataset.for.split(" ").includes(cell);
    }
  };
  form.addEventListener("change", () => {
    write(key, level.value);
    show();
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.hidden = false;
  main.classList.add("picked");
  show();
}

if ("findLast" in Array.prototype) {
  for (const main of all("[data-day]", document)) pickSession(main, today());
}
