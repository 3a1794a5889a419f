// What the athlete chose: sound, voice, vibration, pace. Remembered on the device.

import { readValue, write } from "../store.js";

const FIRST = { sound: true, voice: true, vibration: true, pace: "paced" };

export function settings(home) {
  const kept = readValue(`settings ${home}`) ?? {};
  const known = Object.entries(FIRST).map(([name, first]) => [
    name,
    typeof kept[name] === typeof first ? kept[name] : first,
  ]);
  return Object.fromEntries(known);
}

export function keepSettings(home, chosen) {
  write(`settings ${home}`, JSON.stringify(chosen));
}
