// The list of sessions: what was done, and effort and note, which can be added or changed at any time.

import { localDay } from "../dates.js";
import { ask, button, make } from "./dom.js";
import { EFFORT } from "./effort.js";
import { count, dayWords, placeWords, sessionWords } from "./words.js";

/** @import {LoggedStation, LogPage, LogRecord} from "../types.js" */

/**
 * An item of the list. `log` has `change(record, {effort, note})`, `remove(record)`, and `home`.
 * @param {LogRecord} record
 * @param {LogPage} log
 */
export function item(record, log) {
  const tools = make("p", { class: "tools" });
  const li = make(
    "li",
    { "data-id": record.id },
    make("h3", {}, title(record, log.home)),
    make(
      "p",
      { class: "done-on" },
      [dayWords(localDay(record.started)), placeWords(record)].filter(Boolean).join(" · "),
    ),
    make("p", {}, sessionWords(record)),
    record.note ? make("p", { class: "own", dir: "auto" }, record.note) : "",
    done(record),
    tools,
  );
  const words = record.effort === null ? "Add effort and note" : "Change effort and note";
  /** @param {string} what */
  const named = (what) => ({ "aria-label": `${what}: ${record.title}, ${dayWords(localDay(record.started))}` });
  tools.append(
    button(words, () => open(li, tools, record, log), { "data-edit": true, ...named(words) }),
    " ",
    button("Delete", () => erase(record, log), named("Delete")),
  );
  return li;
}

/**
 * @param {LogRecord} record
 * @param {string} home
 */
function title(record, home) {
  const words = record.title || "Session";
  if (!record.address) return make("bdi", {}, words);
  // An address from a file may be anything; as a path from here it stays on this site.
  const href = new URL(`./${record.address}`, location.origin + home).href;
  return make("a", { href, dir: "auto" }, words);
}

/** @param {LogRecord} record */
function done(record) {
  if (!record.stations.length) return make("p", { class: "note" }, "No set finished.");
  const list = make("ul");
  // What nobody has opened is not there, so that a long log is on the screen at once.
  const fill = () => {
    if (!list.firstChild) for (const station of record.stations) list.append(make("li", {}, ...bout(station)));
  };
  return make("details", { toggle: fill }, make("summary", {}, `${count(record.stations.length, "set")} done`), list);
}

/** @param {LoggedStation} station */
function bout({ label, name, round, dose, way }) {
  const said = [round ? `round ${round}` : "", dose].filter(Boolean).join(", ");
  const parts = [label, " ", make("bdi", {}, name), said ? `: ${said}` : ""];
  return way ? [...parts, " (easier: ", make("bdi", {}, way), ")"] : parts;
}

/**
 * @param {HTMLElement} li
 * @param {HTMLElement} tools
 * @param {LogRecord} record
 * @param {LogPage} log
 */
function open(li, tools, record, log) {
  /** @param {number | null} number @param {string} words */
  const choice = (number, words) =>
    make(
      "label",
      {},
      make("input", { type: "radio", name: "effort", value: number ?? "", checked: number === record.effort }),
      ` ${words}`,
    );
  const effort = make(
    "fieldset",
    { class: "effort" },
    make("legend", {}, "How hard the session felt, 0 to 10"),
    choice(null, "not noted"),
    EFFORT.map(([number, words]) => choice(number, words ? `${number}, ${words}` : `${number}`)),
  );
  const note = make("textarea", { name: "note", rows: "3", dir: "auto" });
  note.value = record.note;
  const close = () => {
    form.replaceWith(tools);
    log.closed(record.id);
  };
  /** @param {Event} event */
  const save = (event) => {
    event.preventDefault();
    const chosen = new FormData(form).get("effort");
    const changes = { effort: chosen === "" || chosen === null ? null : Number(chosen), note: note.value };
    form.replaceWith(tools);
    log.change(record, changes);
  };
  const form = make(
    "form",
    { class: "edit", submit: save },
    effort,
    make("label", {}, "Note", note),
    make("p", { class: "tools" }, make("button", { type: "submit" }, "Save"), " ", button("Leave as it was", close)),
  );
  tools.replaceWith(form);
  /** @type {HTMLElement | null} */ (effort.querySelector("input:checked"))?.focus();
}

/**
 * @param {LogRecord} record
 * @param {LogPage} log
 */
async function erase(record, log) {
  const when = dayWords(localDay(record.started));
  const question = `Delete ${record.title || "this session"} of ${when} from this device? It cannot be brought back, except from a file that you have saved.`;
  if (await ask(question, "Delete it", "Keep it")) log.remove(record);
}

/**
 * Puts items into the list in their order and takes the others out; one that stays is not moved, and keeps the focus.
 * @param {Element} list
 * @param {Element[]} items
 */
export function arrange(list, items) {
  const wanted = new Set(items);
  for (const old of [...list.children]) if (!wanted.has(old)) old.remove();
  let next = list.firstElementChild;
  for (const one of items) {
    if (one === next) next = next.nextElementSibling;
    else list.insertBefore(one, next);
  }
}
