// Wakes the page "Your log".

import { localDay } from "../dates.js";
import { askToStay, device, home as homeOfSite } from "../store.js";
import { button, make } from "./dom.js";
import { notes, ribbons, table } from "./plot.js";
import * as kept from "./records.js";
import { arrange, item } from "./sessions.js";
import { saveLog } from "./save.js";
import { tools } from "./tools.js";
import { mondayOf, weeks } from "./weeks.js";
import { count } from "./words.js";

/** @import {LogPage, LogRecord} from "../types.js" */

const SHOWN_WEEKS = 12;
const SHOWN_SESSIONS = 20;
/** How many more a tap shows at most. */
const MORE_SESSIONS = 500;

const REFUSED =
  "This browser keeps nothing for this site, so no session can stay here. Private windows and blocked cookies do that.";
const LEGEND = "Load of each week, a part for each day you trained. Longer is more.";
const EMPTY = "Nothing here yet. Finish a session, say how hard it felt, and it is listed here.";

/**
 * Fills the part of the page that the log is for.
 * @param {HTMLElement} place
 */
export function wake(place) {
  const home = homeOfSite();
  const parts = { warnings: make("div", { id: "unkept" }), weeks: make("div"), more: make("div") };
  const list = make("ol", { class: "log-sessions" });
  const heading = make("h2", { tabindex: "-1" }, "Sessions");
  const status = make("p", { role: "status", class: "said", tabindex: "-1" });
  /** @type {Map<string, { text: string, li: HTMLElement }>} */
  const items = new Map();
  let most = SHOWN_SESSIONS;

  /** @param {string} words */
  const say = (words) => {
    status.textContent = words;
  };
  /** @type {LogPage} */
  const log = {
    home,
    say,
    draw,
    toSaid: () => status.focus(),
    club: place.dataset.club ?? "",
    closed: focusOn,
    change: (record, changes) => {
      say(change(home, record.id, changes));
      draw();
      focusOn(record.id);
    },
    remove: (record) => {
      say(kept.remove(home, record.id) || "The session is deleted.");
      draw();
      (heading.hidden ? status : heading).focus();
    },
  };

  /** @param {string} id */
  function focusOn(id) {
    draw();
    /** @type {HTMLElement | null | undefined} */ (items.get(id)?.li.querySelector("[data-edit]"))?.focus();
  }

  function draw() {
    const all = kept.records(home);
    parts.warnings.replaceChildren(...warnings(home));
    parts.weeks.replaceChildren(...weekParts(all, home));
    // What an empty log has no use for. What cannot be read can still be deleted.
    heading.hidden = list.hidden = !all.length;
    copies.hidden = !all.length;
    drawSend();
    erase.hidden = !all.length && !kept.unreadable(home);
    const newest = all.reverse().slice(0, most);
    arrange(
      list,
      newest.map((record) => itemOf(record)),
    );
    const rest = all.length - newest.length > MORE_SESSIONS;
    const more = button(
      rest ? `Show ${MORE_SESSIONS} more of ${all.length} sessions` : `Show all ${all.length} sessions`,
      () => {
        most = rest ? newest.length + MORE_SESSIONS : Infinity;
        draw();
        heading.focus();
      },
    );
    parts.more.replaceChildren(...(all.length > newest.length ? [make("p", { class: "tools" }, more)] : []));
  }

  /** @param {LogRecord} record */
  function itemOf(record) {
    const text = JSON.stringify(record);
    const had = items.get(record.id);
    // One that is being changed is left alone until that is done.
    if (had && (had.text === text || had.li.querySelector("form"))) return had.li;
    const li = item(record, log);
    items.set(record.id, { text, li });
    return li;
  }

  const { copies, bringIn, erase, drawSend } = tools(log);
  const aside = make(
    "section",
    { class: "log-tools", "aria-labelledby": "copies" },
    make("h2", { id: "copies" }, "Copies and sharing"),
    copies,
    bringIn,
    erase,
  );
  place.replaceChildren(parts.warnings, status, parts.weeks, heading, list, parts.more, aside);
  draw();
  if (!list.hidden) askToStay();
  // Another tab that brings in a file tells of each session; they are drawn together.
  const drawSoon = onceAFrame(draw);
  addEventListener("storage", ({ key }) => {
    if (key === null || key.startsWith(kept.keyOf(home, ""))) drawSoon();
  });
}

/**
 * Asks for `go` before the next picture of the page, however often it is called until then.
 * @param {() => void} go
 */
function onceAFrame(go) {
  let asked = false;
  return () => {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      go();
    });
  };
}

/** Whether the device's store is there and may be read; whether it is full shows only when something is written. */
function usable() {
  try {
    /** @type {Storage} */ (device()).getItem("");
    return true;
  } catch {
    return false;
  }
}

/**
 * Writes effort and note into what is kept now; another tab may have gone on with the session.
 * @param {string} home
 * @param {string} id
 * @param {{ effort: number | null, note: string }} changes
 */
function change(home, id, changes) {
  const record = kept.records(home).find((one) => one.id === id);
  if (!record) return "This session is no longer in the log: it was deleted in another tab.";
  return kept.keep(home, Object.assign(record, changes)) || "Saved.";
}

/** @param {string} home */
function warnings(home) {
  const found = [];
  const only = kept.unkept(home).length;
  const unread = kept.unreadable(home);
  if (!usable()) found.push(make("p", { class: "older" }, REFUSED));
  if (only) {
    const words = `${count(only, "session is", "sessions are")} in this tab only, as the browser's store is full or refuses. Save a file before you close it. `;
    found.push(
      make(
        "p",
        { class: "older" },
        words,
        button("Save as a file", () => saveLog(home)),
      ),
    );
  }
  if (unread) {
    const words = `${count(unread, "entry", "entries")} of this log cannot be read by this page: damaged, or written by a later build of the site. Left as they are.`;
    found.push(make("p", { class: "older" }, words));
  }
  return found;
}

/**
 * @param {LogRecord[]} all
 * @param {string} home
 */
function weekParts(all, home) {
  if (!all.length) {
    return [make("p", {}, EMPTY), make("p", { class: "to" }, make("a", { href: home }, "Go to the programmes"))];
  }
  const now = Date.now();
  const shown = weeks(all, now, SHOWN_WEEKS);
  const thisWeek = mondayOf(localDay(now));
  const later = all.filter((record) => mondayOf(localDay(record.started)) > thisWeek).length;
  const weekly = shown.length ? [make("h2", {}, "Weeks"), make("p", { class: "note" }, LEGEND), ribbons(shown)] : [];
  return [...weekly, ...notes(shown, later), ...(shown.length ? [table(shown)] : [])];
}
