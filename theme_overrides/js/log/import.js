// Imports the records of a file into the log of this device: all of them or none.

import { absorb, counted } from "./record.js";
import { freeId, keyOf, records } from "./records.js";
import { MOST_STATIONS } from "./transfer.js";
import * as store from "../store.js";

/** @import {LogRecord} from "../types.js" */

/** @typedef {{ added: number, completed: number, same: number }} Counts */

const WHY = {
  full: "Nothing was brought in: this browser's store is full. Delete sessions that you no longer need and try again.",
  refused:
    "Nothing was brought in: this browser keeps nothing for this site. Private windows and blocked cookies do that.",
};

/**
 * Merges by id: what either copy of a session knows is kept, and what this device says of effort and note stays.
 * Gives {added, completed, same} counts of sessions, or {why} in words where nothing was changed.
 * @param {string} home
 * @param {LogRecord[]} sessions
 * @returns {Partial<Counts> & { why?: string }}
 */
export function importSessions(home, sessions) {
  const here = new Map(records(home).map((record) => [record.id, record]));
  const ids = new Map();
  const growing = new Map();
  const changed = new Map();
  const counts = { added: 0, completed: 0, same: 0 };
  for (const session of sessions) {
    // What is asked of the store is asked once a session, however many copies of it a file holds.
    const id = once(ids, session.id, () => freeId(home, session.id));
    const isNew = !here.has(id) && !growing.has(id);
    const { record, times } = once(growing, id, () => {
      const copies = { stations: [...session.stations], reports: [...session.reports] };
      const begun = here.get(id) ?? { ...session, id, ...copies };
      return { record: begun, times: counted(begun.stations) };
    });
    const grew = isNew || absorb(record, session, undefined, times);
    if (grew) changed.set(id, record);
    counts[isNew ? "added" : grew ? "completed" : "same"] += 1;
  }
  const long = [...changed.values()].find(({ stations }) => stations.length > MOST_STATIONS);
  if (long) return { why: tooLong(long) };
  const why = putAll([...changed].map(([id, record]) => [keyOf(home, id), JSON.stringify(record)]));
  return why ? { why: WHY[why] } : counts;
}

/**
 * What a map has under a key; it is made where it is missing.
 * @template T
 * @param {Map<string, T>} map
 * @param {string} key
 * @param {() => T} made
 * @returns {T}
 */
function once(map, key, made) {
  if (!map.has(key)) map.set(key, made());
  return /** @type {any} */ (map.get(key));
}

/** @param {LogRecord} record */
function tooLong({ title, stations }) {
  const which = title ? ` (${title.slice(0, 60)})` : "";
  return `Nothing was brought in: with what is here a session${which} would have ${stations.length} finished sets, allowed are ${MOST_STATIONS}.`;
}

/**
 * Writes every text, or puts back what was there. Gives "" or "full" or "refused".
 * @param {[key: string, text: string][]} texts
 */
function putAll(texts) {
  const device = store.device();
  /** @type {[key: string, text: string | null][]} */
  const before = texts.map(([key]) => [key, store.get(device, key)]);
  for (const [key, text] of texts) {
    const why = store.put(device, key, text);
    if (why) {
      putBack(device, before);
      return why;
    }
  }
  return "";
}

/**
 * @param {Storage | null} device
 * @param {[key: string, text: string | null][]} before
 */
function putBack(device, before) {
  // What is new goes first, so that there is room; a text that was there is shorter than what replaced it.
  for (const [key, text] of before) if (text === null) store.drop(device, key);
  for (const [key, text] of before) if (text !== null) store.put(device, key, text);
}
