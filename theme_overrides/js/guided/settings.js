// What the athlete chose: sound, voice, vibration, pace. Remembered on the device.

import { readValue, write } from "../store.js";

/** @import {Settings} from "../types.js" */

/** @type {Settings} */
const FIRST = { sound: true, voice: true, vibration: true, pace: "paced" };

/**
 * @param {string} home
 * @returns {Settings}
 */
export function settings(home) {
  const kept = readValue(`settings ${home}`) ?? {};
  const known = Object.entries(FIRST).map(([name, first]) => [
    name,
    typeof kept[name] === typeof first ? kept[name] : first,
  ]);
  return /** @type {any} */ (Object.fromEntries(known));
}

/**
 * @param {string} home
 * @param {Settings} chosen
 */
export function keepSettings(home, chosen) {
  write(`settings ${home}`, JSON.stringify(chosen));
}
