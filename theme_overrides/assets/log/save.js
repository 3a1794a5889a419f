// Saves the log as files. For the page of the log, and for wherever a session could not be kept.

import { saveFile } from "./doors.js";
import { records } from "./records.js";
import { toCsv, toJson } from "./transfer.js";
import { localDay } from "./weeks.js";

/** Saves the whole log, with what only this tab holds, as a file that can be brought in again. */
export function saveLog(home) {
  saveFile(fileName("json"), "application/json", toJson(records(home)));
}

/** The same for a spreadsheet. */
export function saveSheet(home) {
  saveFile(fileName("csv"), "text/csv", toCsv(records(home)));
}

export function saveText(text) {
  saveFile(fileName("txt"), "text/plain", text);
}

const fileName = (suffix) => `training-log-${new Date(localDay(Date.now())).toISOString().slice(0, 10)}.${suffix}`;
