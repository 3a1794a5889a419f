// Session loads by the week, Monday to Sunday of the local calendar. Pure: the time is an argument.
//
// Session load = effort × minutes (Foster et al. 2001). Monotony = mean of the week's seven daily loads, days
// without training counted as 0, divided by their standard deviation (Foster 1998). No source seen says which
// standard deviation; here it is the one of a sample, with 6 below the line (STDEV in spreadsheets).

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

/** @param {number[]} numbers */
export function mean(numbers) {
  return numbers.reduce((sum, number) => sum + number, 0) / numbers.length;
}

/**
 * The standard deviation of a sample: divided by one less than there are.
 * @param {number[]} numbers
 */
export function deviation(numbers) {
  const middle = mean(numbers);
  return Math.sqrt(numbers.reduce((sum, number) => sum + (number - middle) ** 2, 0) / (numbers.length - 1));
}

/**
 * Mean / standard deviation of the days of a week; null for equal days, where it is not defined.
 * @param {number[]} loads
 */
export function monotony(loads) {
  // Equal loads may differ in their last binary digit, which would be divided by.
  const [least, most] = [Math.min(...loads), Math.max(...loads)];
  return most - least <= 1e-9 * Math.abs(most) ? null : mean(loads) / deviation(loads);
}

/**
 * The last `most` weeks up to that of `now` (ms), oldest first, from the first week with a session; those without
 * sessions between them too.
 *
 * Each is {monday, loads and unknowns (of seven days), total, sessions, unknown, over, coming, monotony, why}:
 * unknown counts sessions without an effort, coming the days after today; `why` says why monotony is null: "not
 * over", "unknown", "equal", or "none" for a week without load.
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
  const why = reason({ over, unknown, total, loads });
  const even = why ? null : monotony(loads);
  return { monday, loads, unknowns, total, sessions: own.length, unknown, over, coming, monotony: even, why };
}

/**
 * Effort × seconds are summed before they are divided, so that whole numbers stay exact.
 * @param {LogRecord[]} records
 */
function dayLoad(records) {
  return records.reduce((sum, record) => sum + (record.effort ?? 0) * record.seconds, 0) / 60;
}

/**
 * @param {{ over: boolean, unknown: number, total: number, loads: number[] }} week
 * @returns {Week["why"]}
 */
function reason({ over, unknown, total, loads }) {
  if (!over) return "not over";
  if (unknown) return "unknown";
  if (!total) return "none";
  return monotony(loads) === null ? "equal" : "";
}
