// What the screen says for a state: finished words and numbers. Pure. Times in milliseconds.

import { repAt } from "./cues.js";

/** @import {Order, Plan, ScreenWords, Segment, State, Station} from "../types.js" */

/** @type {Record<string, string>} */
const BETWEEN = {
  "side change": "Change sides",
  changeover: "Go to the next station",
  rest: "Rest",
  wait: "Rest",
};
/** @type {Record<string, string>} */
const PHASES = { lower: "lower", low: "pause", lift: "lift", high: "pause", rep: "" };

/**
 * `4:05`; begun seconds count, so that 0:00 is the end.
 * @param {number} milliseconds
 */
export function clockWords(milliseconds) {
  const seconds = Math.ceil(Math.max(0, milliseconds) / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/**
 * `1 min 30 s`, for reading and for saying.
 * @param {number} milliseconds
 */
export function lengthWords(milliseconds) {
  const seconds = Math.ceil(milliseconds / 1000);
  const parts = [seconds >= 60 && `${Math.floor(seconds / 60)} min`, seconds % 60 && `${seconds % 60} s`];
  return parts.filter(Boolean).join(" ") || "0 s";
}

/**
 * {mark, round, what, dose, side, detail, cue, tempo, count, digits, next, toGo, say}, all of them texts.
 * @param {Order} order
 * @param {State} state
 * @returns {ScreenWords}
 */
export function words(order, state) {
  const { plan, stations } = order;
  const segment = plan.segments[state.index];
  if (!segment) return { ...EMPTY, what: "Done", digits: "0:00" };
  const station = stations[segment.station ?? ""];
  const working = segment.kind === "work";
  return {
    mark: markOf(order, segment),
    round: roundWords(order, segment),
    what: working ? named(station) : BETWEEN[segment.kind],
    dose: working ? station.dose : "",
    side: segment.side ? `${segment.side} side` : "",
    detail: working ? station.detail : "",
    cue: stationAt(order, segment)?.cue ?? "",
    count: state.phase === "paused" ? "Paused" : working ? countWords(segment, station, state) : "",
    digits: digits(segment, state),
    next: nextWords(order, segment),
    toGo: `${lengthWords(minuteUp(left(plan, segment, state)))} to go`,
    say: sayWords(order, segment, state),
  };
}

const EMPTY = { mark: "", round: "", dose: "", side: "", detail: "", cue: "", count: "", next: "", toGo: "", say: "" };

/**
 * Seconds left, or where only a tap ends the work, seconds since its beginning.
 * @param {Segment} segment
 * @param {State} state
 */
function digits(segment, state) {
  if (state.phase === "ready" || state.into < 0) return clockWords(-state.into);
  return state.left === null ? clockWords(Math.floor(state.into / 1000) * 1000) : clockWords(state.left);
}

/**
 * The station that is under way, or in between the one that comes; undefined when none does.
 * @param {Order} order
 * @param {Segment} segment
 * @returns {Station | undefined}
 */
export function stationAt({ plan, stations }, segment) {
  const work = segment.kind === "work" ? segment : following(plan, segment);
  return stations[work?.station ?? ""];
}

/**
 * A name may run from right to left; signs of Unicode (UAX 9) keep it apart from the words around it.
 * @param {Station} station
 */
function named({ shown, name }) {
  return `${shown} \u2068${name}\u2069`.trim();
}

const UNITS = [
  ["s", "second"],
  ["min", "minute"],
  ["m", "metre"],
  ["kg", "kilogram"],
];

/**
 * A text as it is said: units in full.
 * @param {string} text
 */
export function spoken(text) {
  const bare = text.replace(/[\u2068\u2069]/g, "");
  return UNITS.reduce((said, [unit, word]) => {
    const found = new RegExp(`\\b([\\d.]+) ${unit}(?![\\p{L}\\d])`, "gu");
    return said.replace(found, (_, amount) => `${amount} ${word}${amount === "1" ? "" : "s"}`);
  }, bare);
}

/**
 * The letter of the block, or the name of the routine.
 * @param {Order} order
 * @param {Segment} segment
 */
function markOf({ plan, stations }, segment) {
  const labelled = plan.segments.find((one) => one.group === segment.group && one.station) ?? before(plan, segment);
  const station = stations[labelled?.station ?? ""];
  return station ? (station.shown[0] ?? station.label.replace(/ \d+$/, "")) : "";
}

/**
 * @param {Plan} plan
 * @param {Segment} segment
 */
function before(plan, segment) {
  return plan.segments.slice(0, segment.index).findLast((one) => one.station);
}

/**
 * @param {Order} order
 * @param {Segment} segment
 */
function roundWords({ plan, blocks }, segment) {
  if (!segment.round) return "";
  const listed = plan.segments.filter((one) => one.block === segment.block && one.line !== null && one.round);
  const own = segment.station ? listed.filter((one) => one.station === segment.station) : listed;
  const rounds = Math.max(segment.round, ...own.map((one) => one.round ?? 1));
  if (rounds === 1) return "";
  return `${blocks[segment.block] === "straight sets" ? "set" : "round"} ${segment.round} of ${rounds}`;
}

/**
 * @param {Segment} segment
 * @param {Station} station
 * @param {State} state
 */
function countWords(segment, station, state) {
  if (state.phase === "ready") return "Get ready";
  if (state.pace === "own" && segment.own) return "at your own pace";
  const at = repAt(segment, station, state.into);
  if (!at) return "";
  return [`rep ${at.rep} of ${at.of}`, PHASES[at.cue]].filter(Boolean).join(", ");
}

/**
 * The work that comes after a segment.
 * @param {Plan} plan
 * @param {Segment} segment
 */
function following(plan, segment) {
  return plan.segments.slice(segment.index + 1).find((one) => one.kind === "work" && one.line !== null);
}

/**
 * @param {Order} order
 * @param {Segment} segment
 */
function nextWords(order, segment) {
  const { plan, stations } = order;
  const work = following(plan, segment);
  if (!work) return segment.kind === "work" ? "Next: the end" : "";
  if (work.station === segment.station && work.round === segment.round) return `Next: ${work.side} side`;
  const then = plan.segments[segment.index + 1];
  const rests = segment.kind === "work" && (then.kind === "rest" || then.kind === "wait") && then.line !== null;
  return `Next: ${rests ? `rest ${lengthWords(then.length)}, then ` : ""}${workWords(work, stations[work.station ?? ""])}`;
}

/**
 * @param {Segment} work
 * @param {Station} station
 */
function workWords(work, station) {
  return [named(station), station.dose, work.side && `${work.side} side`].filter(Boolean).join(", ");
}

/**
 * Planned time from here to the end of the session.
 * @param {Plan} plan
 * @param {Segment} segment
 * @param {State} state
 */
function left(plan, segment, state) {
  return plan.length - Math.min(plan.length, segment.start) - Math.min(Math.max(0, state.into), segment.length);
}

/** @param {number} milliseconds */
function minuteUp(milliseconds) {
  return Math.ceil(milliseconds / 60_000) * 60_000;
}

/**
 * What is said aloud when a segment begins, and what a live region holds.
 * @param {Order} order
 * @param {Segment} segment
 * @param {State} state
 */
function sayWords(order, segment, state) {
  const { plan, stations } = order;
  if (state.phase === "ready") return `Get ready. ${workWords(segment, stations[segment.station ?? ""])}`;
  if (segment.kind === "work") return workWords(segment, stations[segment.station ?? ""]);
  const work = following(plan, segment);
  const next = work ? ` Next: ${workWords(work, stations[work.station ?? ""])}` : "";
  const length =
    segment.kind === "rest" || segment.kind === "wait" ? ` ${lengthWords(state.left ?? segment.length)}` : "";
  return segment.kind === "side change" ? `Change sides.` : `${BETWEEN[segment.kind]}${length}.${next}`;
}
