// Session loads by the week, Monday to Sunday of the local calendar. Pure: the time is an argument.
//
// Session load = effort × minutes (Foster et al. 2001). How alike the days of a week are is the coach's to ask: `hearing`.

import { DAY, localDay } from "../dates.js";

/** @import {LogRecord, Week} from "../types.js" */

const DAYS = 7;

/**
 * Effort × minutes of a record, or null where no effort is noted: unknown is not 0.
 * @param {LogRecord} record
 */
export function load(record) {
  return record.effort === null ? null : (record.effort * record.seconds) / 60;
}

/**
 * The Monday on or before a day, both as `localDay` gives them.
 * @param {number} day
 */
export function mondayOf(day) {
  return day - ((new Date(day).getUTCDay() + 6) % DAYS) * DAY;
}

/**
 * The last `most` weeks up to that of `now` (ms), oldest first, from the first week with a session; those without
 * sessions between them too.
 *
 * Each is {monday, loads and unknowns (of seven days), total, sessions, unknown, over, coming}: unknown counts sessions
 * without an effort, coming the days after today.
 * @param {LogRecord[]} records
 * @param {number} now
 * @param {number} most
 * @returns {Week[]}
 */
export function weeks(records, now, most) {
  const today = localDay(now);
  const last = mondayOf(today);
  const mondays = records.map((record) => mondayOf(localDay(record.started))).filter((monday) => monday <= last);
  if (!mondays.length) return [];
  const first = Math.max(
    mondays.reduce((a, b) => Math.min(a, b)),
    last - (most - 1) * DAYS * DAY,
  );
  /** @type {Map<number, LogRecord[]>} */
  const found = new Map();
  for (let monday = first; monday <= last; monday += DAYS * DAY) found.set(monday, []);
  for (const record of records) found.get(mondayOf(localDay(record.started)))?.push(record);
  return [...found].map(([monday, own]) => week(monday, own, today));
}

/**
 * @param {number} monday
 * @param {LogRecord[]} own
 * @param {number} today
 * @returns {Week}
 */
function week(monday, own, today) {
  const days = Array.from({ length: DAYS }, (_, index) => {
    return own.filter((record) => localDay(record.started) === monday + index * DAY);
  });
  const loads = days.map(dayLoad);
  const unknowns = days.map((records) => records.filter((record) => record.effort === null).length);
  const coming = Math.max(0, monday / DAY + DAYS - 1 - today / DAY);
  const over = monday / DAY + DAYS <= today / DAY;
  const [total, unknown] = [loads, unknowns].map((numbers) => numbers.reduce((sum, one) => sum + one, 0));
  return { monday, loads, unknowns, total, sessions: own.length, unknown, over, coming };
}

/**
 * Effort × seconds are summed before they are divided, so that whole numbers stay exact.
 * @param {LogRecord[]} records
 */
function dayLoad(records) {
  return records.reduce((sum, record) => sum + (record.effort ?? 0) * record.seconds, 0) / 60;
}
