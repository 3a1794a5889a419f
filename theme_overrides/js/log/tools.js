// Saving, bringing in, sharing and deleting. Nothing leaves the device but by one of these buttons.

import { localDay } from "../dates.js";
import { importSessions } from "./import.js";
import * as device from "./device.js";
import { ask, button, make } from "./dom.js";
import { records, removeAll } from "./records.js";
import { saveFile, saveLog } from "./save.js";
import { sending } from "./send.js";
import { fromText, toCsv } from "./transfer.js";
import { weeks } from "./weeks.js";
import { count, shareText } from "./words.js";

/** @import {LogPage} from "../types.js" */

const PERIODS = [
  ["2", "this week and last week"],
  ["4", "the last four weeks"],
  ["12", "the last twelve weeks"],
];

/**
 * The tools of the page: `bringIn` alone is of use to an empty log. `log` has `home`, `club`, `say(words)`,
 * `draw()` and `toSaid()`.
 * @param {LogPage} log
 */
export function tools(log) {
  /** @param {(home: string) => void} save */
  const saved = (save) => () => {
    save(log.home);
    log.say(`${count(records(log.home).length, "session")} saved in a file. Look among your downloads.`);
  };
  const bringIn = make(
    "div",
    {},
    make("h3", {}, "Bring in a copy"),
    make("p", {}, "From another device, or saved earlier. Sessions that are here already are not doubled."),
    make("p", { class: "tools" }, ...fileField(log)),
  );
  const send = sending(log);
  const copies = make(
    "div",
    {},
    make("h3", {}, "Save a copy"),
    make(
      "p",
      {},
      "Browsers may clear what a site keeps, above all when you have not been here for some weeks. A file is yours.",
    ),
    make(
      "p",
      { class: "tools" },
      button("Save as a file", saved(saveLog)),
      " ",
      button(
        "Save for a spreadsheet (CSV)",
        saved((home) => saveFile("csv", "text/csv", toCsv(records(home)))),
      ),
    ),
    make("h3", {}, "Send to my coach"),
    send.element,
    sharing(log),
  );
  const erase = make(
    "div",
    {},
    make("h3", {}, "Delete"),
    make(
      "p",
      { class: "tools" },
      button("Delete the whole log", () => eraseAll(log)),
    ),
  );
  return { copies, bringIn, erase, drawSend: send.draw };
}

/** @param {LogPage} log */
function fileField(log) {
  const take = async () => {
    const [file] = field.files ?? [];
    if (!file) return;
    log.say(await takeFile(log.home, file));
    field.value = "";
    log.draw();
  };
  // The browser's own field does not grow with large type.
  const field = make("input", {
    type: "file",
    hidden: true,
    accept: ".json,.csv,application/json,text/csv",
    change: take,
  });
  return [button("Choose a file, JSON or CSV", () => field.click()), field];
}

/**
 * @param {string} home
 * @param {File} file
 */
async function takeFile(home, file) {
  try {
    const { why, added, completed, same } = importSessions(home, fromText(await device.readFile(file)));
    return why ?? `Brought in: ${added} new, ${completed} completed, ${same} here already.`;
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return `Nothing was brought in. ${error.message}`;
  }
}

/** @param {LogPage} log */
function sharing(log) {
  const text = make("textarea", { rows: "8", dir: "auto" });
  const period = make(
    "select",
    { change: () => fill() },
    PERIODS.map(([weeksBack, words]) => make("option", { value: weeksBack }, words)),
  );
  const fill = () => {
    text.value = recent(log, Number(period.value));
  };
  /**
   * @param {(text: string) => string | Promise<string>} go
   * @param {string} done
   */
  const tell = (go, done) => async () => log.say((await go(text.value)) || done);
  const details = make(
    "details",
    { class: "share", toggle: fill },
    make("summary", {}, "Show the text to share"),
    make("label", {}, "What", period),
    make("label", {}, "This is what you share. Change it as you like.", text),
    make(
      "p",
      { class: "tools" },
      device.canShare()
        ? button(
            "Share",
            tell((body) => device.share("Training log", body), "Shared."),
          )
        : "",
      " ",
      device.canCopy() ? button("Copy", tell(device.copy, "Copied.")) : "",
      " ",
      button("Save as text", () => saveFile("txt", "text/plain", text.value)),
    ),
  );
  return details;
}

/**
 * @param {LogPage} log
 * @param {number} most
 */
function recent(log, most) {
  const all = records(log.home);
  const found = weeks(all, Date.now(), most);
  const from = found[0]?.monday ?? Infinity;
  return shareText(
    log.club,
    all.filter((record) => localDay(record.started) >= from),
    found,
  );
}

/** @param {LogPage} log */
async function eraseAll(log) {
  const question = `Delete the whole log, ${count(records(log.home).length, "session")}, from this device? It cannot be brought back, except from a file that you have saved.`;
  if (!(await ask(question, "Delete everything", "Keep my log"))) return;
  log.say(removeAll(log.home) || "The log is deleted.");
  log.draw();
  log.toSaid();
}
