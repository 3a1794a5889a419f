// Wakes every page: banners, printing, the way back to a session. What some pages alone need, they load themselves.
// Every part looks for its own mark and does nothing without it; the page is whole without any of them.

import { ownDay, today } from "./dates.js";
import { behindIn, home, readValue } from "./store.js";

const LONGEST_TITLE = 100;
/**
 * @param {string} selector
 * @param {ParentNode} [root]
 * @returns {any[]}
 */
const all = (selector, root = document) => [...root.querySelectorAll(selector)];

/** @param {number} day */
function hideBanners(day) {
  for (const banner of all("[data-until]")) {
    // Who stands in an earlier phase has not come to the next one.
    const page = document.querySelector("main[data-programme]") ?? banner;
    banner.hidden = ownDay(day, behindIn(page)) < Date.parse(banner.dataset.until);
  }
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

/**
 * The button has its place from the beginning, and is seen when a tap on it does something.
 * @param {HTMLElement} main
 */
async function guide(main) {
  const start = /** @type {HTMLElement} */ (main.querySelector("[data-start]"));
  start.classList.add("yet");
  start.hidden = false;
  try {
    await (await import("./guided/guided.js")).wake(main);
  } catch {
    start.hidden = true;
  }
  start.classList.remove("yet");
}

/** Wakes all that the page has. */
function wakeAll() {
  leadBack();
  for (const foot of all("[data-keep]")) import("./offline.js").then(({ keep }) => keep(foot)).catch(() => {});
  hideBanners(today());
  for (const main of all("[data-guide]")) guide(main);
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
