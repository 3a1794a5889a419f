// What the page says of today. Pure.

import { DAY, ownDay } from "../dates.js";

/** @import {Agenda, Entry, OnDay, PlannedPhase} from "../types.js" */

const SOON = 7;

/**
 * "Wednesday", or "Wednesday 20 January" for `long`.
 * @param {number} day
 * @param {boolean} [long]
 */
export function dayName(day, long = false) {
  /** @type {Intl.DateTimeFormatOptions} */
  const form = { weekday: "long", timeZone: "UTC", ...(long ? { day: "numeric", month: "long" } : {}) };
  return new Intl.DateTimeFormat("en-GB", form).format(day).replace(",", "");
}

/**
 * "about 37 min, up to 42 without the timer"
 * @param {Entry} entry
 */
export const takes = ({ minutes, byHand }) => `about ${minutes} min, up to ${byHand} without the timer`;

/**
 * "tomorrow", "on Wednesday", "on Monday 18 January"
 * @param {OnDay} entry
 */
export function when({ on, off }) {
  if (off === 1) return "tomorrow";
  return `on ${dayName(on, off >= SOON)}`;
}

/**
 * Other days of the week on which today's session may be done: ", or on Wednesday"; which of them is to be taken:
 * ", better on Wednesday, as Monday has jumps".
 * @param {Entry} entry
 * @param {number} weekday of today
 */
export function orLater({ choice, take }, weekday) {
  if (take && take[0] === weekday) return "";
  if (take && take[0] > weekday) return `, better on ${take[1]}`;
  const later = choice.filter((one) => one > weekday);
  // 5 January 1970 was a Monday.
  return later.map((one) => `, or on ${dayName((4 + one) * DAY)}`).join("");
}

/**
 * What there is to say where no session is today.
 * @param {Agenda} agenda
 * @param {PlannedPhase[]} phases
 * @param {number} behind
 */
export function stateWords({ state, index, done, today }, phases, behind) {
  const { number, starts } = phases[index];
  if (state === "before") return `Phase ${number} starts on ${dayName(ownDay(Date.parse(starts), -behind), true)}.`;
  if (state === "between") {
    const next = phases[index + 1];
    const day = ownDay(Date.parse(next.starts), -behind);
    return `Phase ${number} is finished. Phase ${next.number} starts on ${dayName(day, true)}.`;
  }
  if (state === "over") return "The last phase is finished. Ask your coach what comes next.";
  return done.length || today.length ? "" : "Nothing is planned for today.";
}

/**
 * "week 2 of 4", and whose week that is where it is not the calendar's.
 * @param {Agenda} agenda
 * @param {PlannedPhase[]} phases
 * @param {number} behind
 */
export function placeWords({ state, index, week }, phases, behind) {
  const { number, weeks } = phases[index];
  const at = state === "on" ? `phase ${number}, week ${week} of ${weeks}` : `phase ${number}`;
  return behind ? `${at}: your own week, ${behindWords(behind)}` : at;
}

/** @param {number} behind */
export const behindWords = (behind) => `${behind} week${behind === 1 ? "" : "s"} behind the calendar`;
