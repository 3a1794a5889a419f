// "Send to my coach": a file of what is new, under a name that the athlete chooses. It leaves by the device's share
// sheet, or is saved; nothing is sent by itself.

import { localDay } from "../dates.js";
import { readValue, write } from "../store.js";
import { canShareFile, shareFile } from "./device.js";
import { button, make } from "./dom.js";
import { records } from "./records.js";
import { download } from "./save.js";
import { toCsv, toJson } from "./transfer.js";
import { count, dateWords } from "./words.js";

/** @import {LogPage, LogRecord} from "../types.js" */

/** What was sent: when, under which name, and of each session by its id a sum of its text. */
/** @typedef {{ at: number, name: string, sums: Record<string, number> }} Sent */

const LONGEST_NAME = 40;
const HOW =
  "A file with what is new since the last time. You choose who gets it. Ask your coach how to send it: some clubs want it from your parents.";
const PARENTS =
  "For parents: of each session the file has the date, minutes, sets, how hard it felt, the note, and what was said when it was stopped. It has no place, no address and no picture; its only name is the one above. It goes to whoever you send it to and to nobody else. Ask the club who reads it and when it is deleted.";

/** @param {string} home */
const key = (home) => `sent ${home}`;

/**
 * @param {string} home
 * @returns {Sent}
 */
function sent(home) {
  const kept = readValue(key(home));
  const sums = typeof kept?.sums === "object" && kept.sums ? kept.sums : {};
  return { at: Number.isFinite(kept?.at) ? kept.at : 0, name: typeof kept?.name === "string" ? kept.name : "", sums };
}

/**
 * A sum of a record's text, by which a later change is seen (FNV-1a, 32 bits).
 * @param {LogRecord} record
 */
export function sum(record) {
  let hash = 0x811c9dc5;
  for (const sign of JSON.stringify(record)) hash = Math.imul(hash ^ (sign.codePointAt(0) ?? 0), 0x01000193);
  return hash >>> 0;
}

/**
 * The sessions that were not sent as they are now.
 * @param {LogRecord[]} all
 * @param {Record<string, number>} sums
 */
export function news(all, sums) {
  return all.filter((record) => !Object.hasOwn(sums, record.id) || sums[record.id] !== sum(record));
}

/**
 * The name of a file up to its first dot, by which the coach's side knows whose it is. "" where nothing is left.
 * @param {string} name
 */
export function fileName(name) {
  const letters = name.normalize("NFC").replace(/[^\p{L}\p{M}\p{N} _-]/gu, "");
  return letters.trim().replace(/\s+/g, "-").slice(0, LONGEST_NAME);
}

/**
 * The part of the page that sends; `draw` is called when it is there, and whenever the log has changed.
 * @param {LogPage} log
 */
export function sending(log) {
  const name = make("input", { type: "text", maxlength: LONGEST_NAME, autocomplete: "off", dir: "auto" });
  const what = make("select", {});
  const all = () => records(log.home);
  const draw = () => {
    const before = sent(log.home);
    const fresh = news(all(), before.sums);
    name.value ||= before.name;
    const since = before.at ? `since ${dateWords(localDay(before.at))}` : "so far";
    what.replaceChildren(
      make("option", { value: "new" }, `what is new ${since}: ${count(fresh.length, "session")}`),
      make("option", { value: "all" }, `everything: ${count(all().length, "session")}`),
    );
  };
  const go = async () => {
    const chosen = what.value === "all" ? all() : news(all(), sent(log.home).sums);
    const stem = fileName(name.value);
    if (!stem) {
      log.say("Give the file a name first, so that your coach knows whose it is.");
      name.focus();
    } else if (chosen.length) {
      log.say(await handOver(log.home, name.value, stem, chosen));
      draw();
    } else log.say("There is nothing new since the last time. To send it again, choose everything.");
  };
  const element = make(
    "div",
    { class: "send" },
    make("p", {}, HOW),
    make("label", {}, "Your first name, or what your coach calls you", name),
    make("label", {}, "What", what),
    make("p", { class: "tools" }, button("Send to my coach", go, { class: "go" })),
    make("p", { class: "note" }, PARENTS),
  );
  return { element, draw };
}

/**
 * Shares or saves the file, and keeps what was in it. Gives what is said of it.
 * @param {string} home
 * @param {string} name
 * @param {string} stem
 * @param {LogRecord[]} chosen
 */
async function handOver(home, name, stem, chosen) {
  const day = new Date(localDay(Date.now())).toISOString().slice(0, 10);
  const json = new File([toJson(chosen)], `${stem}.${day}.json`, { type: "application/json" });
  // Some share sheets take a table where they take no JSON.
  const table = new File([toCsv(chosen)], `${stem}.${day}.csv`, { type: "text/csv" });
  const shared = [json, table].find(canShareFile);
  if (shared) {
    const why = await shareFile(shared);
    if (why) return why;
  } else download(json.name, json);
  const sums = { ...sent(home).sums, ...Object.fromEntries(chosen.map((record) => [record.id, sum(record)])) };
  const known = write(key(home), JSON.stringify({ at: Date.now(), name, sums }));
  const done = shared
    ? `${count(chosen.length, "session")} handed over as ${shared.name}.`
    : `${count(chosen.length, "session")} saved as ${json.name}. Look among your downloads, and send that file.`;
  return known ? done : `${done} This browser could not keep what was sent, so it is offered again next time.`;
}
