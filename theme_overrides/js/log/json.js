// The log as the JSON file that can be brought in again. Pure.
//
// {"format": "phasepress log", "version": 2, "sessions": [record, ...]}; its schema is /log.schema.json.

import { VERSION } from "./record.js";

/** @import {LogRecord} from "../types.js" */

export const FORMAT = "phasepress log";

/** @param {LogRecord[]} records */
export function toJson(records) {
  return `${JSON.stringify({ format: FORMAT, version: VERSION, sessions: records }, null, 1)}\n`;
}
