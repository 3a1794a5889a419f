// What a record of one session is, and how two copies of one become one. Pure.

import { onScale } from "./effort.js";

/** @import {LoggedStation, LogRecord, LogReport, PageSession} from "../types.js" */

/** @typedef {[fits: (value: any) => boolean, words: string]} Fit */

export const VERSION = 2;
/** Forms that are read. Form 2 added `utc` and `reports`, which a record of form 1 is given when it is read. */
const FORMS = [1, VERSION];

/** @type {Fit} */
const text = [(value) => typeof value === "string", "text"];
/** @type {Fit} */
const amount = [(value) => Number.isFinite(value) && value >= 0, "a number from 0 up"];
/** @type {Fit} */
const count = [(value) => Number.isSafeInteger(value) && value >= 0, "a whole number from 0 up"];
/** A week and a day less than dates reach (ECMAScript 2023, 21.4.1.1), so that its local date and Monday are dates too. */
const LAST_MOMENT = 864e13 - 8 * 864e5;
/** @type {Fit} */
const moment = [
  (value) => Number.isFinite(value) && Math.abs(value) <= LAST_MOMENT,
  "a time (in JSON milliseconds since 1970, in CSV such as 2027-01-11T17:03:22Z)",
];
/** @type {(fit: Fit) => Fit} */
const maybe = ([fits, words]) => [(value) => value === null || fits(value), `${words}, or nothing`];

/**
 * Every key of a station: whether a value fits, and what it has to be.
 * @type {Record<keyof LoggedStation, Fit>}
 */
export const STATION = {
  label: text,
  exercise: text,
  name: text,
  round: count,
  dose: text,
  reps: maybe(amount),
  way: text,
};

/**
 * Every key of a report: why a session was stopped, where it hurts, at which station, when.
 * @type {Record<keyof LogReport, Fit>}
 */
export const REPORT = {
  station: text,
  where: text,
  why: [(value) => value === "hurts" || value === "too hard", '"hurts" or "too hard"'],
  note: text,
  time: maybe(moment),
};
const UNSAID = { station: "", where: "", note: "", time: null };

const MINUTES_OF_A_DAY = 1440;
/** @type {Fit} */
const minutes = [
  (value) => Number.isInteger(value) && Math.abs(value) <= MINUTES_OF_A_DAY,
  "a whole number of minutes, at most a day",
];

/**
 * Every key of a record but `v`, `stations` and `reports`. `planned` and `seconds` are seconds, `utc` is minutes from
 * UTC where and when it started.
 * @type {Record<keyof Omit<LogRecord, "v" | "stations" | "reports">, Fit>}
 */
export const RECORD = {
  id: [(value) => /^[\w-]{1,64}$/.test(value) && text[0](value), "letters, digits and hyphens, at most 64"],
  address: text,
  programme: text,
  version: text,
  plan: text,
  day: text,
  title: text,
  level: text,
  week: count,
  planned: amount,
  started: moment,
  ended: maybe(moment),
  seconds: amount,
  effort: maybe([onScale, "a whole number from 0 to 10"]),
  note: text,
  utc: maybe(minutes),
};

/**
 * The record of any form that is read as one of today's.
 * @param {any} record
 * @returns {LogRecord}
 */
export function renewed(record) {
  const reports = (record.reports ?? []).map((/** @type {any} */ report) => ({ ...UNSAID, ...report }));
  return { ...record, v: VERSION, utc: record.utc ?? null, reports };
}

/**
 * What is wrong with a record, such as "week is not a whole number from 0 up", or "" when it is one.
 * @param {any} record
 * @returns {string}
 */
export function fault(record) {
  if (!isObject(record)) return "it is not a record";
  if (!FORMS.includes(record.v)) return `v is not ${FORMS.join(" or ")}`;
  const { stations, reports = [] } = record;
  if (!Array.isArray(stations)) return "stations is not a list";
  if (!Array.isArray(reports)) return "reports is not a list";
  return (
    keysFault({ utc: null, ...record }, RECORD, "") ||
    firstFault("station", stations, STATION, {}) ||
    firstFault("report", reports, REPORT, UNSAID)
  );
}

/**
 * @param {string} name
 * @param {unknown[]} entries
 * @param {Record<string, Fit>} keys
 * @param {object} unsaid
 */
function firstFault(name, entries, keys, unsaid) {
  for (const [index, entry] of entries.entries()) {
    const where = `${name} ${index + 1}`;
    const wrong = isObject(entry)
      ? keysFault({ ...unsaid, .../** @type {object} */ (entry) }, keys, `${where}: `)
      : `${where} is not a ${name}`;
    if (wrong) return wrong;
  }
  return "";
}

/**
 * @param {any} object
 * @param {Record<string, Fit>} keys
 * @param {string} where
 */
function keysFault(object, keys, where) {
  const [key, words] = misfit(object, keys) ?? [];
  return key ? `${where}${key} is not ${words}` : "";
}

/**
 * The first key whose value does not fit, with what it has to be; undefined where all fit.
 * @param {any} object
 * @param {Record<string, Fit>} keys
 * @returns {[key: string, words: string] | undefined}
 */
export function misfit(object, keys) {
  const found = Object.entries(keys).find(([key, [fits]]) => !fits(object[key]));
  return found && [found[0], found[1][1]];
}

/**
 * A record with what we know of it alone, in our order.
 * @param {LogRecord} record
 * @returns {LogRecord}
 */
export function known(record) {
  const { stations, reports } = renewed(record);
  return {
    ...only(renewed(record), { v: true, ...RECORD }),
    stations: stations.map((station) => only(station, STATION)),
    reports: reports.map((report) => only(report, REPORT)),
  };
}

/**
 * @param {any} object
 * @param {object} keys
 * @returns {any}
 */
const only = (object, keys) => Object.fromEntries(Object.keys(keys).map((key) => [key, object[key]]));

/** @param {unknown} value */
const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/**
 * A record that is about to start: nothing done yet, no effort, no note. `now` is in ms.
 * @param {string} id
 * @param {PageSession & { planned: number }} session
 * @param {number} now
 * @returns {LogRecord}
 */
export function begun(id, session, now) {
  const utc = 0 - new Date(now).getTimezoneOffset();
  const before = { ended: null, seconds: 0, stations: [], effort: null, note: "", reports: [] };
  return { v: VERSION, id, ...session, started: now, utc, ...before };
}

/**
 * Takes into `ours` what another copy of the same session knows; true if that changed anything. `base` is what both
 * grew from, where known: what we have changed since then stays ours. A finished station of either is never lost.
 * `times` has our stations counted and is kept so: with it the cost is that of `theirs`, however long `ours` is.
 * @param {LogRecord} ours
 * @param {LogRecord} theirs
 * @param {LogRecord | null} [base]
 * @param {Map<string, number>} [times]
 * @returns {boolean}
 */
export function absorb(ours, theirs, base, times = counted(ours.stations)) {
  const before = String(CHANGING.map((key) => ours[key]));
  for (const key of /** @type {const} */ (["ended", "effort", "note"])) {
    const empty = ours[key] === null || ours[key] === "";
    if (base ? ours[key] === base[key] : empty) Object.assign(ours, { [key]: theirs[key] });
  }
  ours.utc ??= theirs.utc;
  ours.seconds = Math.max(ours.seconds, theirs.seconds);
  // One that was done twice is there twice.
  const seen = new Map();
  const more = theirs.stations.filter((one) => add(seen, one) > (times.get(stationText(one)) ?? 0) && add(times, one));
  for (const station of more) ours.stations.push(station);
  const told = new Set(ours.reports.map((report) => reportText(report)));
  const news = theirs.reports.filter((report) => !told.has(reportText(report)));
  ours.reports.push(...news);
  return more.length > 0 || news.length > 0 || String(CHANGING.map((key) => ours[key])) !== before;
}

const CHANGING = /** @type {const} */ (["ended", "effort", "seconds", "note", "utc"]);

/**
 * How often each station was done, by its text.
 * @param {LoggedStation[]} stations
 */
export function counted(stations) {
  /** @type {Map<string, number>} */
  const times = new Map();
  for (const station of stations) add(times, station);
  return times;
}

/**
 * Counts a station; how often it was there by now.
 * @param {Map<string, number>} times
 * @param {LoggedStation} station
 */
function add(times, station) {
  const words = stationText(station);
  const now = (times.get(words) ?? 0) + 1;
  times.set(words, now);
  return now;
}

/** @param {any} report */
const reportText = (report) => JSON.stringify(Object.keys(REPORT).map((key) => report[key]));
/** @param {any} station */
const stationText = (station) => JSON.stringify(Object.keys(STATION).map((key) => station[key]));
