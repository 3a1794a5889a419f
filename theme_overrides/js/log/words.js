// What the log says in words and numbers. Days are as `localDay` gives them, in midnights UTC. Pure.

import { DAY, localDay } from "../dates.js";
import { DAYS, MONTHS } from "../shared.js";
import { words } from "./effort.js";
import { load } from "./weeks.js";

/** @import {LogRecord, Week} from "../types.js" */

/**
 * "Mon 11 Jan 2027"
 * @param {number} day
 */
export function dayWords(day) {
  return `${DAYS[(new Date(day).getUTCDay() + 6) % DAYS.length]} ${dateWords(day)}`;
}

/**
 * When the log was saved as a file: `then` is a time, or anything where none is known; one that is still to come is of a date set wrong.
 * @param {any} then
 * @param {number} now
 */
export function savedWords(then, now) {
  const days = !Number.isFinite(then) ? NaN : (localDay(now) - localDay(then)) / DAY;
  if (!(days >= 0)) return "Not saved on this device yet.";
  return days === 0 ? "Saved today." : `Saved ${count(days, "day")} ago.`;
}

/**
 * "11 Jan 2027"
 * @param {number} day
 */
export function dateWords(day) {
  return `${shortDate(day)} ${new Date(day).getUTCFullYear()}`;
}

/**
 * "11 Jan"
 * @param {number} day
 */
export function shortDate(day) {
  const date = new Date(day);
  return `${date.getUTCDate()} ${MONTHS[date.getUTCMonth()]}`;
}

/**
 * Whole minutes: "42 min".
 * @param {number} seconds
 */
export function minuteWords(seconds) {
  return seconds > 0 && seconds < 30 ? "less than 1 min" : `${Math.round(seconds / 60)} min`;
}

/**
 * A length to work with: "42 min", "42 min 20 s".
 * @param {number} seconds
 */
function exactly(seconds) {
  const whole = Math.round(seconds);
  const [minutes, rest] = [Math.floor(whole / 60), whole % 60];
  return [minutes || !rest ? `${minutes} min` : "", rest ? `${rest} s` : ""].filter(Boolean).join(" ");
}

/**
 * Minutes, effort and load of a session as the sum that they are, "2 min × effort 4 = 8", and whether it was ended.
 * @param {LogRecord} record
 */
export function sessionWords(record) {
  const known = load(record);
  const said = words(record.effort ?? -1);
  const done =
    known === null
      ? [minuteWords(record.seconds), "no effort noted, so no load yet"]
      : [`${exactly(record.seconds)} × effort ${record.effort} = ${Math.round(known)}`, ...(said ? [said] : [])];
  return [...done, ...(record.ended === null ? ["not finished"] : [])].join(" · ");
}

/**
 * "level, week 2", as far as they are known.
 * @param {LogRecord} record
 */
export function placeWords(record) {
  return [record.level, record.week ? `week ${record.week}` : ""].filter(Boolean).join(", ");
}

/**
 * @param {number} number
 * @param {string} one
 * @param {string} [many]
 */
export function count(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}

/**
 * The week's load, with a mark where a session's is not known.
 * @param {Week} week
 */
export function totalWords(week) {
  return loadWords(week.total, week.unknown);
}

/**
 * The load of one of its days, from 0; "–" for a day that is still to come.
 * @param {Week} week
 * @param {number} day
 */
export function dayLoadWords(week, day) {
  const empty = week.loads[day] === 0 && week.unknowns[day] === 0;
  return empty && day >= week.loads.length - week.coming ? "–" : loadWords(week.loads[day], week.unknowns[day]);
}

/**
 * @param {number} total
 * @param {number} unknown
 */
function loadWords(total, unknown) {
  if (unknown && !total) return "?";
  return `${Math.round(total)}${unknown ? " + ?" : ""}`;
}

/**
 * A text for a coach: weeks, then sessions, newest first. `weeks` as `weeks()` gives them.
 * @param {string | undefined} club
 * @param {LogRecord[]} records
 * @param {Week[]} weeks
 */
export function shareText(club, records, weeks) {
  const lines = [["Training log", club].filter(Boolean).join(", "), ""];
  for (const week of [...weeks].reverse()) {
    const so = week.over ? "" : " so far";
    const loads = week.unknown && !week.total ? "not known" : Math.round(week.total);
    const unknown = week.unknown ? ` (${count(week.unknown, "session")} without an effort)` : "";
    lines.push(`Week from ${dateWords(week.monday)}: ${count(week.sessions, "session")}, load ${loads}${so}${unknown}`);
  }
  if (weeks.length) lines.push("");
  for (const record of [...records].reverse()) lines.push(...sessionLines(record));
  return `${lines.join("\n").trimEnd()}\n`;
}

/** @param {LogRecord} record */
function sessionLines(record) {
  const place = placeWords(record);
  const beside = place ? ` (${place})` : "";
  const lines = [
    `${dayWords(localDay(record.started))}: ${record.title}${beside}`,
    `  ${sessionWords(record)} · ${count(record.stations.length, "set")} done`,
  ];
  return record.note ? [...lines, `  Note: ${record.note}`] : lines;
}
