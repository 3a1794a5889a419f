// What the screen says for a state: finished words and numbers. Pure. Times in milliseconds.

import { stationsNow } from "./choices.js";
import { phases, repAt, sideOf } from "./cues.js";

/** @import {CueName, Order, Plan, ScreenWords, Segment, State, Station} from "../types.js" */

/** @type {Record<string, string>} */
const BETWEEN = {
  "side change": "Change sides",
  changeover: "Go to the next station",
  rest: "Rest",
  wait: "Rest",
};
/** @type {Record<string, string>} */
const PHASES = { lower: "lower", low: "pause", lift: "lift", high: "pause", rep: "" };
/** Where a station is left out, its time is rest. */
const OUT = "No jumps: rest";

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
 * {mark, round, what, dose, side, means, load, detail, cue, count, digits, next, toGo, say}, all of them texts. In
 * between, load and cue are those of the work that comes: what to get ready.
 * @param {Order} planned
 * @param {State} state
 * @returns {ScreenWords}
 */
export function words(planned, state) {
  const order = { ...planned, stations: stationsNow(planned, state) };
  const { plan, stations } = order;
  const segment = plan.segments[state.index];
  if (!segment) return { ...EMPTY, what: "Done", digits: "0:00" };
  const station = stations[segment.station ?? ""];
  const working = isWork(order, segment);
  const coming = stationAt(order, segment);
  const work = workAt(order, segment);
  return {
    mark: markOf(order, segment),
    round: roundWords(order, segment, state),
    what: working ? named(station) : segment.kind === "work" ? OUT : BETWEEN[segment.kind],
    dose: working ? doseOf(station, segment) : "",
    side: coming ? sideWords(work ?? segment, coming, state, working) : "",
    means: coming && coming.sides !== "both" ? coming.sideIs : "",
    load: segment.kind === "side change" ? "" : (coming?.load ?? ""),
    detail: working ? detailWords(station) : "",
    cue: coming ? cueWords(coming, segment, working) : "",
    count: state.phase === "paused" ? "Paused" : working ? countWords(segment, station, state) : "",
    digits: digits(segment, state),
    next: nextWords(order, segment),
    toGo: toGoWords(plan, segment, state),
    say: sayWords(order, segment, state),
  };
}

const EMPTY = {
  ...{ mark: "", round: "", dose: "", side: "", means: "", load: "", detail: "" },
  ...{ cue: "", count: "", next: "", toGo: "", say: "" },
};

/**
 * Whether something is done in a segment: work that is not left out.
 * @param {Order} order
 * @param {Segment} segment
 */
export function isWork({ stations }, segment) {
  return segment.kind === "work" && !stations[segment.station ?? ""]?.out;
}

/**
 * The dose; of another way with another measure, the planned seconds.
 * @param {Station} station
 * @param {Segment} work
 */
function doseOf(station, work) {
  return station.dose || `${lengthWords(work.length)}${station.measure === "time" ? " of good reps" : ""}`;
}

/**
 * The side that works now. Where both take turns in one stretch, the beat says which; without it, both are named.
 * @param {Segment} segment
 * @param {Station} station
 * @param {State} state
 * @param {boolean} working
 */
function sideWords(segment, station, state, working) {
  if (segment.side && station.sides !== "both") return `${segment.side} side`;
  if (!sideOf(segment, station, 1, 1)) return "";
  const at = !working || (state.pace === "own" && segment.own) ? null : repAt(segment, station, state.into);
  if (at) return `${sideOf(segment, station, at.rep, at.of)} side`;
  return station.sides === "each" ? "left side first, then right" : "left and right in turn";
}

/**
 * What else belongs to the dose, and how a rep goes, in words: no digits of a tempo.
 * @param {Station} station
 */
function detailWords(station) {
  const rep = phases(station.tempo, station.begins).map(({ cue, seconds, fast }) =>
    cue === "rep" ? "" : `${phaseWords(cue, station)} ${fast ? "as fast as you can control" : seconds + " s"}`,
  );
  return [station.detail, rep.filter(Boolean).join(", ")].filter(Boolean).join("; ");
}

/**
 * @param {CueName} cue
 * @param {Station} station
 */
function phaseWords(cue, { tempoWords }) {
  const own = { lower: tempoWords?.[0], lift: tempoWords?.[1] }[/** @type {"lower" | "lift"} */ (cue)];
  return own || PHASES[cue];
}

/**
 * One cue, another one each round; in between, how to get into the start position. What is different in another way
 * comes first.
 * @param {Station} station
 * @param {Segment} segment
 * @param {boolean} working
 */
function cueWords({ cues, setup, how, careful }, segment, working) {
  if (segment.kind === "side change") return "";
  if (!working) return [how, ...setup].filter(Boolean).join(" ");
  const cue = cues[((segment.round ?? 1) - 1) % cues.length];
  return [how, careful || cue].filter(Boolean).join(". ").replace(/\.\. /g, ". ");
}

/**
 * What is left: of timed rounds their own time, else planned time to the end of the session.
 * @param {Plan} plan
 * @param {Segment} segment
 * @param {State} state
 */
function toGoWords(plan, segment, state) {
  if (state.blockLeft !== null) return `${clockWords(state.blockLeft)} left in block`;
  return `${lengthWords(minuteUp(left(plan, segment, state)))} to go`;
}

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
export function stationAt(order, segment) {
  const work = workAt(order, segment);
  return work && order.stations[work.station ?? ""];
}

/**
 * The work that is under way, or in between the work that comes; undefined when none does.
 * @param {Order} order
 * @param {Segment} segment
 */
export function workAt(order, segment) {
  return isWork(order, segment) ? segment : following(order, segment);
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
 * @param {State} state
 */
function roundWords({ plan, blocks }, segment, state) {
  if (segment.timed) return timedWords(plan, segment, state);
  if (!segment.round) return "";
  const listed = plan.segments.filter((one) => one.block === segment.block && one.line !== null && one.round);
  const own = segment.station ? listed.filter((one) => one.station === segment.station) : listed;
  const rounds = Math.max(segment.round, ...own.map((one) => one.round ?? 1));
  if (rounds === 1) return "";
  return `${blocks[segment.block] === "straight sets" ? "set" : "round"} ${segment.round} of ${rounds}`;
}

/**
 * Timed rounds have no number that is to be reached: the one under way, and how many are whole.
 * @param {Plan} plan
 * @param {Segment} segment
 * @param {State} state
 */
function timedWords({ segments, bouts }, segment, { done }) {
  const own = bouts.filter(({ parts }) => segments[parts[0]].group === segment.group);
  const labels = new Set(own.map(({ station }) => station));
  /** @type {Map<number, number>} */
  const finished = new Map();
  for (const number of done) {
    const { parts, round } = bouts[number];
    if (segments[parts[0]].group === segment.group) finished.set(round, (finished.get(round) ?? 0) + 1);
  }
  const whole = [...finished.values()].filter((count) => count === labels.size).length;
  return [segment.round && `round ${segment.round}`, whole && `${whole} done`].filter(Boolean).join(", ");
}

/**
 * @param {Segment} segment
 * @param {Station} station
 * @param {State} state
 */
function countWords(segment, station, state) {
  if (state.phase === "ready") return "Get ready";
  if (state.pace === "own" && segment.own && station.measure === "reps") return "at your own pace";
  const at = repAt(segment, station, state.into);
  if (!at) return "";
  return [`rep ${at.rep} of ${at.of}`, phaseWords(at.cue, station)].filter(Boolean).join(", ");
}

/**
 * The work that comes after a segment. Rounds beyond those planned are told of by who is there already.
 * @param {Order} order
 * @param {Segment} segment
 */
function following(order, segment) {
  const ahead = order.plan.segments.slice(segment.index + 1);
  const isBeyond = segment.line === null;
  return ahead.find((one) => isWork(order, one) && (one.line !== null || (isBeyond && one.group === segment.group)));
}

/**
 * @param {Order} order
 * @param {Segment} segment
 */
function nextWords(order, segment) {
  const { plan, stations } = order;
  const work = following(order, segment);
  const working = isWork(order, segment);
  if (!work) return working ? "Next: the end" : "";
  const station = stations[work.station ?? ""];
  if (work.station === segment.station && work.round === segment.round) {
    return station.sides === "both" ? `Next: ${doseOf(station, work)} more` : `Next: ${work.side} side`;
  }
  const then = plan.segments[segment.index + 1];
  const rests = working && (then.kind === "rest" || then.kind === "wait") && then.line !== null;
  const rest = rests ? `rest ${lengthWords(then.length)}, then ` : "";
  return `Next: ${rest}${workWords(work, station)}`;
}

/**
 * @param {Segment} work
 * @param {Station} station
 */
function workWords(work, station) {
  const side = work.side && station.sides !== "both" && `${work.side} side`;
  return [named(station), doseOf(station, work), side].filter(Boolean).join(", ");
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
  const { stations } = order;
  const work = workAt(order, segment);
  if (state.phase === "ready" && work) return `Get ready. ${workWords(work, stations[work.station ?? ""])}`;
  if (isWork(order, segment)) return aloud(segment, stations[segment.station ?? ""]);
  const next = work ? ` Next: ${workWords(work, stations[work.station ?? ""])}` : "";
  const length =
    segment.kind === "rest" || segment.kind === "wait" ? ` ${lengthWords(state.left ?? segment.length)}` : "";
  if (segment.kind === "side change") return "Change sides.";
  return `${segment.kind === "work" ? OUT : BETWEEN[segment.kind]}${length}.${next}`;
}

/**
 * @param {Segment} work
 * @param {Station} station
 */
function aloud(work, station) {
  const turns = !work.side && sideOf(work, station, 1, 1) ? ", left first" : "";
  return `${workWords(work, station)}${turns}`;
}
