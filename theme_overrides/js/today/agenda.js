// What is on: by the date, the level, the log, and by how many weeks an athlete stands behind the calendar. Pure.
//
// Who stands behind by n weeks has the calendar's sessions n weeks later: the weekdays stay, and nothing has to be
// known of phases that are written later.

import { currentPhase, DAY, ownDay, weekOn } from "../dates.js";

/** @import {Agenda, Entry, OnDay, PlannedPhase, Standing} from "../types.js" */

const WEEK = 7;
/** How far ahead the next session is looked for, and how long a log is empty before the page asks, in days. */
const AHEAD = 366;
export const AWAY = 14;
/** Monday is 0. @param {number} day */
export const weekday = (day) => (new Date(day).getUTCDay() + 6) % WEEK;

/**
 * Where a day lies among phases, which stand in the order of their dates.
 * @param {number} day
 * @param {PlannedPhase[]} phases
 * @returns {Standing}
 */
export function standing(day, phases) {
  const index = currentPhase(
    day,
    phases.map(({ starts }) => starts),
  );
  const week = weekOn(day, phases[index].starts);
  if (week < 1) return { index, week, state: "before" };
  if (week <= phases[index].weeks) return { index, week, state: "on" };
  return { index, week, state: index + 1 < phases.length ? "between" : "over" };
}

/**
 * Every session of a week for a level; what its file leaves out is none.
 * @param {PlannedPhase} phase
 * @param {number} week
 * @param {string} level
 * @returns {Entry[]}
 */
function entries(phase, week, level) {
  return phase.days.flatMap(({ id, title, on, take, takes }) => {
    const [minutes, byHand] = takes[level]?.[week - 1] ?? [0, 0];
    if (!minutes) return [];
    const day = `${phase.address}${id}/`;
    const address = `${day}${level}/week-${week}/`;
    const same = { id, title, minutes, byHand, week, phase: phase.number, day, address };
    return on.map((choice, at) => ({ ...same, choice, take: take?.[at] ?? null }));
  });
}

/**
 * What is left of a week's sessions when so many of each day are done; the earlier ones are done first.
 * @param {Entry[]} week
 * @param {string[]} done ids of days, one for each time
 */
function left(week, done) {
  const still = [...done];
  const byDate = [...week].sort((a, b) => Math.min(...a.choice) - Math.min(...b.choice));
  const taken = new Set(
    byDate.filter(({ id }) => {
      const at = still.indexOf(id);
      return at >= 0 && still.splice(at, 1).length > 0;
    }),
  );
  return week.filter((entry) => !taken.has(entry));
}

/**
 * Whether a session may fall on a weekday, so that it comes next: on the one that is to be taken, unless that is over.
 * @param {Entry} entry
 * @param {number} on
 * @param {number} over the last weekday that is over; -1 for none
 */
const mayBe = ({ choice, take }, on, over) => (take && take[0] > over ? take[0] === on : choice.includes(on));

/**
 * What an athlete has today and next. `done` are the sessions of the programme that are in the log: the id of the day
 * and the local date of each.
 * @param {{ day: number, behind: number, level: string, phases: PlannedPhase[], done: { id: string, title: string, day: number }[] }} given
 * @returns {Agenda}
 */
export function agenda({ day, behind, level, phases, done }) {
  const own = ownDay(day, behind);
  const place = standing(own, phases);
  const monday = day - weekday(day) * DAY;
  const ofWeek = done.filter((one) => one.day >= monday && one.day < monday + WEEK * DAY).map(({ id }) => id);
  const doneToday = done.filter((one) => one.day === day);
  const thisWeek = place.state === "on" ? entries(phases[place.index], place.week, level) : [];
  const open = left(thisWeek, ofWeek);
  /** @param {Entry} entry */
  const isToday = ({ choice }) => choice.includes(weekday(day));
  // Who has trained once more than is planned for today has done enough for a day.
  const today = doneToday.length && doneToday.length >= thisWeek.filter(isToday).length ? [] : open.filter(isToday);
  return { ...place, done: doneToday.map(({ title }) => title), today, next: next() };

  /** @returns {OnDay | null} */
  function next() {
    for (let off = 1; off <= AHEAD; off += 1) {
      const at = standing(own + off * DAY, phases);
      if (at.state !== "on") continue;
      const same = off < WEEK - weekday(day);
      const planned = same ? open.filter((entry) => !today.includes(entry)) : entries(phases[at.index], at.week, level);
      const found = planned.find((entry) => mayBe(entry, weekday(day + off * DAY), same ? weekday(day) : -1));
      if (found) return { ...found, on: day + off * DAY, off };
    }
    return null;
  }
}

/**
 * Whether to ask if somebody was away: nothing in the log for two weeks, since the level was chosen, and since the last answer.
 * @param {number} day
 * @param {number | null} last the last day that is in the log
 * @param {number | null} answered
 */
export function asksIfAway(day, last, answered) {
  const known = [last, answered].filter((one) => one !== null);
  return known.length > 0 && day - Math.max(...known) >= AWAY * DAY;
}

/**
 * The weeks in which an athlete may stand: that of the calendar and every one before it, the latest first, each with the
 * weeks that it is behind. None before the first phase; in a gap the last week of the phase before is the first of them.
 * @param {number} day
 * @param {PlannedPhase[]} phases
 * @returns {{ index: number, week: number, behind: number }[]}
 */
export function earlier(day, phases) {
  const monday = day - weekday(day) * DAY;
  return phases
    .flatMap(({ starts, weeks }, index) =>
      Array.from({ length: weeks }, (_, at) => {
        const behind = Math.round((monday - Date.parse(starts)) / DAY / WEEK) - at;
        return { index, week: at + 1, behind };
      }),
    )
    .filter(
      ({ index, behind, week }) => behind >= 0 && standing(ownDay(day, behind), phases).index === index && week > 0,
    )
    .reverse();
}
