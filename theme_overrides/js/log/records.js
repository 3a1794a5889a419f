// The log of one club's site on this device: a key a session, "log <home> <id>".
//
// Each session has a key of its own, so tabs with different sessions never write over each other. A tab that finds
// its session changed by another tab takes in what that one knows before it writes. What the device refuses is held
// in this tab: in its memory and, where that is allowed, in the store that outlives a reload. What is not ours, or
// is of a later format, is passed over and never written upon.

import { absorb, begun, fault, renewed } from "./record.js";
import * as store from "../store.js";

/** @import {LogRecord, PageSession} from "../types.js" */

const WHY = {
  full: "This browser's store is full, so this session is in this tab only. Save it as a file before you close the tab.",
  refused:
    "This browser keeps nothing for this site, so this session is in this tab only. Save it as a file before you leave the page.",
};
/** @type {Map<string, LogRecord>} */
const held = new Map();
/** @type {Set<string>} */
const recalled = new Set();
/**
 * The text from which each record object grew: read or written last; and, for one that is new, what this tab wrote.
 * @type {WeakMap<LogRecord, string>}
 */
const texts = new WeakMap();
/** @type {Map<string, string>} */
const written = new Map();

/**
 * Every key of a store that begins with `prefix`, with its text.
 * @param {Storage | null} of
 * @param {string} prefix
 * @returns {[key: string, text: string][]}
 */
function stored(of, prefix) {
  try {
    // Not by `of.key(index)`, for which some browsers count from the first key each time.
    const keys = Object.keys(of ?? {}).filter((key) => key.startsWith(prefix));
    return keys.map((key) => [key, of?.getItem(key) ?? ""]);
  } catch {
    return [];
  }
}

/** @param {string} home */
const prefix = (home) => `log ${home} `;

/**
 * The key of a record in the device's store.
 * @param {string} home
 * @param {string | undefined} id
 */
export const keyOf = (home, id) => prefix(home) + id;

/**
 * @param {string} home
 * @param {number} now
 * @returns {string}
 */
function freshId(home, now) {
  const random = [...crypto.getRandomValues(new Uint8Array(5))].map((byte) => byte.toString(16).padStart(2, "0"));
  const id = `${Math.abs(Math.trunc(now)).toString(36)}-${random.join("")}`;
  return store.get(store.device(), keyOf(home, id)) === null ? id : freshId(home, now);
}

/**
 * A record of a session that starts at `now` (ms), not kept yet.
 * session = {address, programme, version, plan, day, title, level, week, planned}, `planned` in seconds.
 * @param {string} home
 * @param {PageSession & { planned: number }} session
 * @param {number} now
 * @returns {LogRecord}
 */
export function newRecord(home, session, now) {
  return begun(freshId(home, now), session, now);
}

/**
 * Writes the record whole. Gives "" or, in a sentence for the athlete, why the device could not keep it.
 * @param {string} home
 * @param {LogRecord} record
 */
export function keep(home, record) {
  try {
    for (const key of /** @type {const} */ (["started", "ended"])) {
      const time = record[key];
      if (Number.isFinite(time)) record[key] = Math.round(/** @type {number} */ (time));
    }
    const wrong = fault(record);
    if (wrong) return `This session cannot be kept: ${wrong}.`;
    Object.assign(record, renewed(record));
    const why = write(home, record);
    if (!why) settle(home);
    return why ? WHY[why] : "";
  } catch (error) {
    return `This session cannot be kept: ${/** @type {Error} */ (error).message}.`;
  }
}

/**
 * @param {string} home
 * @param {LogRecord} record
 */
function write(home, record) {
  const before = keyOf(home, record.id);
  takeIn(home, record);
  const key = keyOf(home, record.id);
  const text = JSON.stringify(record);
  const why = store.put(store.device(), key, text);
  if (why) hold(key, record, text);
  else remember(key, record, text);
  if (!why || key !== before) letGo(before);
  return why;
}

/**
 * @param {string} key
 * @param {LogRecord} record
 * @param {string} text
 */
function remember(key, record, text) {
  texts.set(record, text);
  written.set(key, text);
}

/**
 * @param {string} key
 * @param {LogRecord} record
 * @param {string} text
 */
function hold(key, record, text) {
  held.set(key, record);
  store.put(store.tab(), key, text);
}

/** @param {string} key */
function letGo(key) {
  if (held.delete(key)) store.drop(store.tab(), key);
}

/**
 * What another tab has written since.
 * @param {string} home
 * @param {LogRecord} record
 */
function takeIn(home, record) {
  record.id = freeId(home, record.id);
  const key = keyOf(home, record.id);
  const now = store.get(store.device(), key);
  const base = texts.get(record) ?? written.get(key);
  if (now !== null && now !== base) absorb(record, /** @type {LogRecord} */ (parsed(now)), parsed(base));
}

const LONGEST_ID = 64;

/**
 * The id, or one like it: a text under its key that is no record of ours is not written upon.
 * @param {string} home
 * @param {string} id
 * @returns {string}
 */
export function freeId(home, id) {
  for (let free = id; free.length <= LONGEST_ID; free += "b") {
    const now = store.get(store.device(), keyOf(home, free));
    if (now === null || parsed(now)) return free;
  }
  return freshId(home, Date.now());
}

/**
 * The record that a text is; null for another's text, a damaged one, or a later format.
 * @param {string | undefined} text
 * @returns {LogRecord | null}
 */
function parsed(text) {
  try {
    const record = JSON.parse(text ?? "");
    return fault(record) ? null : renewed(record);
  } catch {
    return null;
  }
}

/**
 * Tries again to have the device keep what this tab holds.
 * @param {string} home
 */
function settle(home) {
  recall(home);
  for (const [key, record] of [...held]) if (key.startsWith(prefix(home))) write(home, record);
}

/**
 * What this tab held before it was loaded again.
 * @param {string} home
 */
function recall(home) {
  if (recalled.has(home)) return;
  recalled.add(home);
  for (const [key, text] of stored(store.tab(), prefix(home))) {
    const record = parsed(text);
    if (record && !held.has(key)) held.set(key, record);
  }
}

/**
 * Every record that can be read, oldest first, with those that this tab holds.
 * @param {string} home
 * @returns {LogRecord[]}
 */
export function records(home) {
  settle(home);
  const found = new Map();
  for (const [key, text] of stored(store.device(), prefix(home))) {
    const record = parsed(text);
    if (!record || key !== keyOf(home, record.id)) continue;
    found.set(key, record);
    texts.set(record, text);
  }
  for (const record of unkept(home)) found.set(keyOf(home, record.id), record);
  return [...found.values()].sort((a, b) => a.started - b.started || (a.id < b.id ? -1 : 1));
}

/**
 * Records that only this tab holds, since the device refused them.
 * @param {string} home
 */
export function unkept(home) {
  recall(home);
  return [...held].filter(([key]) => key.startsWith(prefix(home))).map(([, record]) => record);
}

/**
 * How many texts stand under keys of this log that cannot be read here: damaged, or of a later format.
 * @param {string} home
 */
export function unreadable(home) {
  const entries = stored(store.device(), prefix(home));
  return entries.filter(([key, text]) => keyOf(home, parsed(text)?.id) !== key).length;
}

/**
 * Forgets one record. Gives "" or why not.
 * @param {string} home
 * @param {string} id
 */
export function remove(home, id) {
  return forget([keyOf(home, id)]);
}

/**
 * Forgets the whole log of this site, what cannot be read included, and nothing else. Gives "" or why not.
 * @param {string} home
 */
export function removeAll(home) {
  const all = [store.device(), store.tab()].flatMap((one) => stored(one, prefix(home)));
  return forget([...all.map(([key]) => key), ...unkept(home).map(({ id }) => keyOf(home, id))]);
}

/** @param {string[]} keys */
function forget(keys) {
  const done = keys.map((key) => {
    held.delete(key);
    return [store.device(), store.tab()].every((one) => store.drop(one, key));
  });
  return done.every(Boolean)
    ? ""
    : "This browser does not let the site delete it. Clear the site's data in the browser's settings.";
}
