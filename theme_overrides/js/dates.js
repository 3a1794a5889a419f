// Days, weeks and phases by the date of the device. Pure; the worker has them too. A day is midnight UTC of its date.

export const DAY = 864e5;

/**
 * The local date of a moment (ms or a Date), as midnight UTC of that date, so that days are 24 hours apart.
 * @param {number | Date} moment
 * @returns {number}
 */
export function localDay(moment) {
  const date = new Date(moment);
  return Date.UTC(date.getFullYear(), date.getMonth(), date.getDate());
}

/**
 * @param {Date} [now]
 * @returns {number}
 */
export const today = (now = new Date()) => localDay(now);

/**
 * Week of a phase on a day, from 1; below 1 before it starts, above `weeks` when it is over.
 * @param {number} day
 * @param {string} starts its first day, ISO 8601
 * @returns {number}
 */
export function weekOn(day, starts) {
  return Math.floor((day - Date.parse(starts)) / DAY / 7) + 1;
}

/**
 * Index of the phase that a day belongs to: the last that has started, else the first.
 * @param {number} day
 * @param {string[]} starts their first days, in order
 * @returns {number}
 */
export function currentPhase(day, starts) {
  return starts.reduce((found, start, index) => (Date.parse(start) <= day ? index : found), 0);
}

/**
 * @param {number} week
 * @param {number} weeks
 * @returns {string}
 */
export function weekWords(week, weeks) {
  if (week < 1) return "";
  return week > weeks ? "finished" : `week ${week} of ${weeks}`;
}

/**
 * The calendar's day on which an athlete stands who is so many weeks behind it.
 * @param {number} day
 * @param {number} behind
 */
export const ownDay = (day, behind) => day - behind * 7 * DAY;
