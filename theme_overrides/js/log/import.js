// Imports the records of a file into the log of this device: all of them or none.

import { absorb } from "./record.js";
import { freeId, keyOf, records } from "./records.js";
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
  const counts = { added: 0, completed: 0, same: 0 };
  const changed = new Map();
  for (const session of sessions) {
    const id = freeId(home, session.id);
    const known = changed.get(id) ?? here.get(id);
    const record = known ?? { ...session, id };
    const grew = known ? absorb(known, session) : true;
    if (grew) changed.set(id, record);
    if (!known) counts.added += 1;
    else counts[grew ? "completed" : "same"] += 1;
  }
  const why = putAll([...changed].map(([id, record]) => [keyOf(home, id), JSON.stringify(record)]));
  return why ? { why: WHY[why] } : counts;
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
