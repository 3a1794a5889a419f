// Wakes the page: today's phase and week, the remembered level, printing, search.
// Every part looks for its own mark and does nothing without it; the page is whole without any of them.

import { currentPhase, ownDay, today, weekOn, weekWords, weeksBehind } from "./dates.js";
import { home, read, readValue, write } from "./store.js";

const LONGEST_TITLE = 100;
/**
 * @param {string} selector
 * @param {ParentNode} [root]
 * @returns {any[]}
 */
const all = (selector, root = document) => [...root.querySelectorAll(selector)];

/**
 * By how many weeks an athlete stands behind the calendar in the programme that an element is of.
 * @param {HTMLElement} element
 */
function behindIn(element) {
  const programme = /** @type {HTMLElement | null} */ (element.closest("[data-programme]"))?.dataset.programme;
  return programme ? weeksBehind(read(`behind ${home()}${programme}`)) : 0;
}

/** @param {number} day */
function showPhases(day) {
  /** @type {Map<Node, HTMLElement[]>} */
  const groups = new Map();
  for (const phase of all("[data-phase]")) {
    if (!groups.has(phase.parentNode)) groups.set(phase.parentNode, []);
    groups.get(phase.parentNode)?.push(phase);
  }
  for (const phases of groups.values()) {
    const behind = behindIn(phases[0]);
    const own = ownDay(day, behind);
    const current = currentPhase(
      own,
      phases.map(({ dataset }) => dataset.starts ?? ""),
    );
    phases.forEach((phase, index) => {
      phase.hidden = index !== current;
      const words = weekWords(weekOn(own, phase.dataset.starts ?? ""), Number(phase.dataset.weeks));
      const place = /** @type {HTMLElement} */ (phase.querySelector("[data-week]"));
      if (words) place.textContent = behind ? `${words}, your own` : words;
      else place.prepend("starts: ");
    });
  }
}

/** @param {number} day */
function hideBanners(day) {
  for (const banner of all("[data-until]")) {
    // Who stands in an earlier phase has not come to the next one.
    const page = document.querySelector("main[data-programme]") ?? banner;
    banner.hidden = ownDay(day, behindIn(page)) < Date.parse(banner.dataset.until);
  }
}

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

/** The way back to a session that is under way, on every page but its own. */
function leadBack() {
  const under = readValue(`running ${home()}`);
  if (typeof under?.address !== "string" || under.record?.ended !== null) return;
  // An address that another page has put there may be anything; as a path from here it stays on this site.
  const target = new URL(`./${under.address}`, location.origin + home());
  if (target.pathname === location.pathname || !target.pathname.startsWith(home())) return;
  const line = document.createElement("p");
  line.className = "older";
  line.append("A session is under way: ");
  const link = document.createElement("a");
  link.href = target.href;
  link.dir = "auto";
  link.textContent = [under.record.title, under.record.level]
    .map((text) => String(text).slice(0, LONGEST_TITLE))
    .join(", ");
  line.append(link);
  document.querySelector("#main")?.prepend(line);
}

/** Wakes all that the page has. */
function wakeAll() {
  const day = today();
  leadBack();
  for (const foot of all("[data-keep]")) import("./offline.js").then(({ keep }) => keep(foot)).catch(() => {});
  showPhases(day);
  hideBanners(day);
  for (const main of all("[data-day]")) {
    pickSession(main, day);
    own(main.dataset.day).then(({ wake }) => wake(main), () => {});
  }
  for (const form of all("form.find")) findExercises(form);
  for (const main of all("[data-guide]")) {
    import("./guided/guided.js").then(
      ({ wake }) => wake(main),
      () => {},
    );
  }
  for (const place of all("[data-log]")) own(place.dataset.log).then(({ wake }) => wake(place));
  for (const button of all("[data-print]")) {
    const paper =
      button.dataset.paper &&
      own(button.dataset.paper).then(
        (found) => (found.watch(), found),
        () => null,
      );
    button.hidden = false;
    button.addEventListener("click", async () => {
      if (paper) await (await paper)?.ready();
      print();
    });
  }
}

/**
 * A script that only its own pages name, so that no other needs to know of it.
 * @param {string} address
 */
const own = (address) => import(new URL(address, location.href).href);

// Of what the oldest browsers on which everything works have (tests/scripts/floor.js), this is the youngest. Older
// ones get the page as it is, whole.
if ("findLast" in Array.prototype) wakeAll();
