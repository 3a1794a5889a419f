// Saves the log as a file. For the page of the log, and for wherever a session could not be kept.

/** @import {LogRecord} from "../types.js" */

import { localDay } from "../dates.js";
import { toJson } from "./json.js";
import { write } from "../store.js";
import { records } from "./records.js";

/**
 * Saves the whole log, with what only this tab holds, as a file that can be brought in again. `all` is for who has records that
 * this module does not hold.
 * @param {string} home
 * @param {LogRecord[]} [all]
 */
export function saveLog(home, all = records(home)) {
  saveFile("json", "application/json", toJson(all));
  noteSaved(home);
}

/**
 * Under which the time is kept at which the log was saved as a file.
 * @param {string} home
 */
export const savedKey = (home) => `saved ${home}`;

/** @param {string} home */
export function noteSaved(home) {
  write(savedKey(home), String(Date.now()));
}

/**
 * Offers a text as a file to save, named by the day.
 * @param {string} suffix
 * @param {string} type
 * @param {string} text
 */
export function saveFile(suffix, type, text) {
  const day = new Date(localDay(Date.now())).toISOString().slice(0, 10);
  download(`training-log-${day}.${suffix}`, new Blob([text], { type }));
}

/**
 * Offers something to save under a name.
 * @param {string} name
 * @param {Blob} content
 */
export function download(name, content) {
  const address = URL.createObjectURL(content);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers fetch it only after the click has been dealt with.
  setTimeout(() => URL.revokeObjectURL(address), 60e3);
}
