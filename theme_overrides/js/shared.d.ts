// What the generator and the scripts both know. The build writes js/shared.js (generator/telling/views/shared.py).

/** How hard a session felt: the words of each number from 0, "" where the scale has none. */
export const EFFORT: readonly string[];
/** Short names of the weekdays, from Monday. */
export const DAYS: readonly string[];
/** Short names of the months. */
export const MONTHS: readonly string[];
/** The session ribbon in its own units: its width, and the height of its bar. */
export const RIBBON: { readonly width: number; readonly bar: number };
