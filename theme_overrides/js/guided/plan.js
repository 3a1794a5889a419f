// The running order of the page, made ready for the clock. Pure. Times in milliseconds.

/** @import {Bout, Line, Plan, Segment} from "../types.js" */

/** @typedef {Line & { line: number | null }} Listed */
/** @typedef {Listed & { ends: number | null }} Limited */

export const MINUTE = 60_000;
const MORE_ROUNDS = 2;
const TIMED = "timed rounds";

/**
 * A plan from the page's list.
 *
 * lines: [{start, length, kind, block, station, round, side, reps}] in order; absent values are null.
 * kinds: the kind of each block, by its number. measures: what each station is counted in, by its label.
 *
 * Gives {segments, bouts, length}. A segment is a line with
 *   index, line   its place here, and the place of the line that shows it (null: none does)
 *   group         what it shares a clock with: its block, or for a rest behind a block that rest alone
 *   at            its planned start from the start of its group
 *   ends          where the clock of its group ends it whatever came before: the full minute, the end of timed rounds; or null
 *   own           whether it may last until the athlete taps: work that is counted in reps
 *   timed         whether it is of timed rounds, which a tap may count
 * A bout is {station, round, parts}: the segments of its work. `length` is that of the whole session.
 * @param {Line[]} lines
 * @param {Record<string, string>} kinds
 * @param {Record<string, string>} measures
 * @returns {Plan}
 */
export function plan(lines, kinds, measures) {
  /** @type {Segment[]} */
  const segments = [];
  groups(lines).forEach((group, number) => {
    const kind = kinds[group[0].block];
    const limited =
      LIMITED[isRestBehind(group[0]) ? "" : kind]?.(group) ?? group.map((line) => ({ ...line, ends: null }));
    for (const one of limited) {
      const own = one.kind === "work" && measures[one.station ?? ""] === "reps";
      const timed = kind === TIMED && !isRestBehind(group[0]);
      segments.push({ ...one, index: segments.length, group: number, at: one.start - group[0].start, own, timed });
    }
  });
  const last = lines.at(-1);
  return { segments, bouts: bouts(segments), length: last ? last.start + last.length : 0 };
}

/**
 * Between two blocks the first one's rest: it belongs to no station and to no round.
 * @param {Line} line
 */
function isRestBehind(line) {
  return line.kind === "rest" && line.station === null && line.round === null;
}

/** @param {Line[]} lines */
function groups(lines) {
  /** @type {Listed[][]} */
  const found = [];
  lines.forEach((line, index) => {
    const before = lines[index - 1];
    if (!before || before.block !== line.block || isRestBehind(line)) found.push([]);
    /** @type {Listed[]} */ (found.at(-1)).push({ ...line, line: index });
  });
  return found;
}

/**
 * What holds a block to its clock, by its kind.
 * @type {Record<string, (group: Listed[]) => Limited[]>}
 */
const LIMITED = {
  "every minute": (group) =>
    group.map((line) => ({
      ...line,
      ends: (Math.floor((line.start - group[0].start) / MINUTE) + 1) * MINUTE,
    })),
  [TIMED]: (group) => {
    const ends = group.reduce((sum, line) => sum + line.length, 0);
    return [...uncut(group), ...behind(group, ends)].map((line) => ({ ...line, ends }));
  },
};

/**
 * The end of timed rounds may cut their last line; who comes to it earlier has the whole of it.
 * @param {Listed[]} group
 * @returns {Listed[]}
 */
function uncut(group) {
  const last = group[group.length - 1];
  const whole =
    group.find((line) => line.kind === last.kind && line.station === last.station && line.side === last.side) ?? last;
  return [...group.slice(0, -1), { ...last, length: Math.max(last.length, whole.length) }];
}

/**
 * What waits at the end of timed rounds for those who go round faster than planned: more rounds, then their end.
 * @param {Listed[]} group
 * @param {number} ends
 * @returns {Listed[]}
 */
function behind(group, ends) {
  const again = group.findIndex((line) => line.round === 2);
  const round = again > 0 ? group.slice(0, again) : [];
  const rounds = Math.max(...group.map((line) => line.round ?? 1));
  /** @type {Listed[]} */
  const found = [];
  // The list may stop in the middle of a round, which is finished first.
  const done = again > 0 ? (group.length - again) % round.length : 0;
  const first = again > 0 ? rounds + (done ? 0 : 1) : 0;
  for (let more = 0; round.length && more < MORE_ROUNDS * rounds + 1; more += 1) {
    const lines = more === 0 && done ? round.slice(done) : round;
    found.push(...lines.map((line) => ({ ...line, round: first + more, line: null })));
  }
  const blank = { station: null, round: null, side: null, reps: null, line: null };
  found.push({ ...blank, kind: "wait", start: 0, length: ends, block: group[0].block });
  const last = group[group.length - 1];
  let start = last.start + last.length;
  for (const line of found) {
    line.start = start;
    start += line.length;
  }
  return found;
}

/** @param {Segment[]} segments */
function bouts(segments) {
  /** @type {Map<string, Bout>} */
  const found = new Map();
  for (const { kind, station, round, index } of segments) {
    if (kind !== "work") continue;
    const key = `${station} ${round}`;
    const bout = found.get(key) ?? /** @type {Bout} */ ({ station, round, parts: [] });
    found.set(key, bout);
    bout.parts.push(index);
  }
  return [...found.values()];
}
