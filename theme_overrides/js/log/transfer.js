// The log as files, and back. Pure; what cannot be read throws a SyntaxError whose words are for the athlete.
//
// JSON is as in json.js.
// CSV: a row for each finished station and for each report with the columns of its session, or one row for a session
// without any. Files of the first form lack the columns of reports and the minutes from UTC.

import { localDay } from "../dates.js";
import * as csv from "./csv.js";
import { FORMAT, toJson } from "./json.js";
import { RECORD, REPORT, STATION, VERSION, fault, known, misfit } from "./record.js";
import { load } from "./weeks.js";

/** @import {LoggedStation, LogRecord, LogReport} from "../types.js" */

/** @import {Fit} from "./record.js" */
/** @typedef {{ write(value: any): string, read(cell: string): any }} Column */
/** @typedef {Map<string, { line: number, record: LogRecord }>} Found */

/**
 * The most stations that a session of a file may have. The generator allows 5,000 segments, and who goes round faster
 * than timed rounds were planned for may come to three times as many.
 */
export const MOST_STATIONS = 20_000;
const AGAIN = "Save the file again on the device that it is from.";

/** @type {Column} */
const text = { write: (value) => value, read: (cell) => cell };
/** @type {Column} */
const number = {
  write: (value) => (value === null ? "" : String(value)),
  read: (cell) => (cell === "" ? null : /^-?\d+(\.\d+)?(e[+-]?\d+)?$/i.test(cell) ? Number(cell) : NaN),
};
/** @type {Column} */
const moment = {
  write: (value) => (value === null ? "" : new Date(value).toISOString()),
  read: (cell) => (cell === "" ? null : Date.parse(cell)),
};
/**
 * Columns of a session: heading, key of the record, how it is written and read.
 * @type {[heading: string, key: keyof Omit<LogRecord, "v" | "stations" | "reports">, column: Column][]}
 */
const SESSION = [
  ["session", "id", text],
  ["title", "title", text],
  ["programme", "programme", text],
  ["version", "version", text],
  ["plan", "plan", text],
  ["day", "day", text],
  ["level", "level", text],
  ["week", "week", number],
  ["address", "address", text],
  ["planned seconds", "planned", number],
  ["started", "started", moment],
  ["ended", "ended", moment],
  ["trained seconds", "seconds", number],
  ["effort", "effort", number],
  ["note", "note", text],
  ["minutes from UTC", "utc", number],
];
/** @type {[heading: string, key: keyof LoggedStation, column: Column][]} */
const STATIONS = [
  ["station", "label", text],
  ["exercise", "exercise", text],
  ["name", "name", text],
  ["round", "round", number],
  ["dose", "dose", text],
  ["reps", "reps", number],
  ["easier way", "way", text],
];
const WHY = "stopped because";
/**
 * A report has a row of its own, which this column tells from that of a finished station.
 * @type {[heading: string, key: keyof LogReport, column: Column][]}
 */
const REPORTS = [
  ["station", "station", text],
  [WHY, "why", text],
  ["where", "where", text],
  ["said", "note", text],
  ["stopped at", "time", moment],
];
/** For people and spreadsheets; minutes and load stand once a session, so that they can be added up. */
const EXTRA = ["log format", "date", "minutes", "load"];
const ADDED = ["minutes from UTC", ...REPORTS.slice(1).map(([heading]) => heading)];
const HEADINGS = [...EXTRA, ...[...SESSION, ...STATIONS, ...REPORTS.slice(1)].map(([heading]) => heading)];
/** What a file of any form has. */
const OWN = HEADINGS.filter((heading) => !EXTRA.includes(heading) && !ADDED.includes(heading));

export { toJson };

/** @param {LogRecord[]} records */
export function toCsv(records) {
  // The mark tells spreadsheets that it is UTF-8.
  return `\ufeff${csv.write([HEADINGS, ...records.flatMap(rowsOf)])}`;
}

/**
 * @param {LogRecord} record
 * @returns {string[][]}
 */
function rowsOf(record) {
  const session = SESSION.map(([, key, { write }]) => write(record[key]));
  const own = [
    ...record.stations.map((station) => named(STATIONS, station)),
    ...record.reports.map((report) => named(REPORTS, report)),
  ];
  return (own.length ? own : [new Map()]).map((row, index) => [
    ...extra(record, index === 0),
    ...session,
    ...HEADINGS.slice(EXTRA.length + SESSION.length).map((heading) => row.get(heading) ?? ""),
  ]);
}

/**
 * Cells of a station or a report by their headings.
 * @param {[heading: string, key: string, column: Column][]} columns
 * @param {any} of
 * @returns {Map<string, string>}
 */
const named = (columns, of) => new Map(columns.map(([heading, key, { write }]) => [heading, write(of[key])]));

/**
 * @param {LogRecord} record
 * @param {boolean} first
 */
function extra(record, first) {
  const date = new Date(localDay(record.started)).toISOString().slice(0, 10);
  const sums = first ? [(record.seconds / 60).toFixed(1), load(record)?.toFixed(0) ?? ""] : ["", ""];
  return [String(VERSION), date, ...sums];
}

/**
 * The records in the text of a file, JSON or CSV.
 * @param {string} content
 * @returns {LogRecord[]}
 */
export function fromText(content) {
  return /^\ufeff?\s*[{[]/.test(content) ? fromJson(content) : fromCsv(content);
}

/**
 * @param {string} content
 * @returns {LogRecord[]}
 */
function fromJson(content) {
  const file = parsed(content.replace(/^\ufeff/, ""));
  if (file?.format !== FORMAT || !Array.isArray(file.sessions)) {
    throw new SyntaxError(`This file is not a log of this site: it does not say "format": "${FORMAT}".`);
  }
  refuseLater(file.version);
  return file.sessions.map((/** @type {any} */ session, /** @type {number} */ index) => {
    const wrong = fault(session) || tooLong(session);
    if (wrong) throw new SyntaxError(`Session ${index + 1} of the file${titled(session)}: ${wrong}. ${AGAIN}`);
    return known(session);
  });
}

/**
 * What is wrong with a session of more stations than are allowed, or "".
 * @param {{ stations: unknown[] }} session
 */
function tooLong({ stations }) {
  if (stations.length <= MOST_STATIONS) return "";
  return `it has ${stations.length} finished sets, allowed are ${MOST_STATIONS}`;
}

/** @param {any} session */
const titled = (session) => (typeof session?.title === "string" ? ` (${session.title.slice(0, 60)})` : "");

/**
 * @param {string} content
 * @returns {any}
 */
function parsed(content) {
  try {
    return JSON.parse(content);
  } catch (error) {
    const at = /position (\d+)/.exec(/** @type {Error} */ (error).message)?.[1];
    const line =
      at === undefined
        ? ""
        : ` It breaks off or goes wrong in line ${content.slice(0, Number(at)).split("\n").length}.`;
    throw new SyntaxError(`This file is damaged or is not JSON.${line} ${AGAIN}`);
  }
}

/** @param {unknown} version */
function refuseLater(version) {
  if (version === 1 || version === VERSION) return;
  throw new SyntaxError(
    `The file is of format ${String(version).slice(0, 20)}, and this page reads 1 and ${VERSION}. ` +
      "Load this page again while you are online, then bring the file in again.",
  );
}

/**
 * @param {string} content
 * @returns {LogRecord[]}
 */
function fromCsv(content) {
  const [head, ...rows] = csvRows(content);
  const missing = [EXTRA[0], ...OWN].filter((heading) => !head?.cells.includes(heading));
  if (missing.length > OWN.length / 2) {
    throw new SyntaxError(
      "This file is not a log of this site. Choose a .json or .csv file that was saved on this page.",
    );
  }
  if (missing.length) {
    throw new SyntaxError(`Line ${head.line}: there is no column "${missing.join('", "')}". ${AGAIN}`);
  }
  /** @type {Found} */
  const found = new Map();
  const places = new Map(HEADINGS.map((heading) => [heading, head.cells.indexOf(heading)]));
  for (const { line, cells } of rows) takeRow(found, line, (heading) => cells[places.get(heading) ?? -1] ?? "");
  return [...found.values()].map(({ record }) => record);
}

/** @param {string} content */
function csvRows(content) {
  try {
    return csv.read(content);
  } catch (error) {
    throw new SyntaxError(`The file is damaged, ${/** @type {Error} */ (error).message}. ${AGAIN}`);
  }
}

/**
 * @param {Found} found
 * @param {number} line
 * @param {(heading: string) => string} cellOf
 */
function takeRow(found, line, cellOf) {
  refuseLater(Number(cellOf("log format")));
  const session = read(SESSION, RECORD, line, cellOf);
  const before = found.get(session.id);
  if (before) agree(before, session, line);
  else found.set(session.id, { line, record: { v: VERSION, ...session, stations: [], reports: [] } });
  const { stations, reports } = /** @type {{ record: LogRecord }} */ (found.get(session.id)).record;
  if (cellOf(WHY) !== "") {
    reports.push(read(REPORTS, REPORT, line, cellOf));
    return;
  }
  if (STATIONS.every(([heading]) => cellOf(heading) === "")) return;
  stations.push(read(STATIONS, STATION, line, cellOf));
  const wrong = tooLong({ stations });
  if (wrong) throw new SyntaxError(`Line ${line}${titled(session)}: ${wrong}. ${AGAIN}`);
}

/**
 * @param {[heading: string, key: string, column: Column][]} columns
 * @param {Record<string, Fit>} keys
 * @param {number} line
 * @param {(heading: string) => string} cellOf
 * @returns {any}
 */
function read(columns, keys, line, cellOf) {
  const values = Object.fromEntries(
    columns.map(([heading, key, { read: reading }]) => [key, reading(cellOf(heading))]),
  );
  const [wrong, words] = misfit(values, keys) ?? [];
  if (!wrong) return values;
  const [heading = ""] = columns.find(([, key]) => key === wrong) ?? [];
  throw new SyntaxError(
    `Line ${line}, column "${heading}": "${cellOf(heading).slice(0, 40)}" is not ${words}. Mend it there, or save the file again.`,
  );
}

/**
 * @param {{ line: number, record: LogRecord }} before
 * @param {any} session
 * @param {number} line
 */
function agree({ line: first, record }, session, line) {
  const other = SESSION.find(([, key]) => record[key] !== session[key]);
  if (!other) return;
  throw new SyntaxError(
    `Line ${line}, column "${other[0]}": it differs from line ${first}, which is of the same session. Make them equal, or save the file again.`,
  );
}
