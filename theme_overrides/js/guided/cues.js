// What is to be heard and when: (plan, stations, stretches ahead) → cues. Pure. Times in milliseconds.

/** @import {Cue, CueName, Plan, Segment, Station, Stretch} from "../types.js" */

/** @typedef {{ cue: CueName, after: number, seconds?: number, fast?: boolean }} Phase */

const SECOND = 1_000;
const COUNT = 3;
/** An X in a tempo counts as one second, as everywhere on the site. */
const AS_FAST_AS_CONTROL_ALLOWS = 1;

/**
 * A rep's phases in the order in which they are done: [{cue, after}] with the seconds from its beginning.
 *
 * tempo: "3-0-1-0", lowering – pause low – lifting – pause high; a count of 0 is left out. begins: "lifting" where
 * a rep starts from the bottom. Without a tempo a rep is one beat.
 * @param {string | null} tempo
 * @param {string} begins
 * @returns {Phase[]}
 */
export function phases(tempo, begins) {
  if (!tempo) return [{ cue: "rep", after: 0 }];
  const counts = tempo.split("-").map((count) => (count === "X" ? AS_FAST_AS_CONTROL_ALLOWS : Number(count)));
  const fast = tempo.split("-").map((count) => count === "X");
  /** @type {CueName[]} */
  const names = ["lower", "low", "lift", "high"];
  const order = names.map((cue, index) => ({ cue, seconds: counts[index], fast: fast[index] }));
  if (begins === "lifting") order.push(...order.splice(0, 2));
  let after = 0;
  return order.map((one) => ({ ...one, after: (after += one.seconds) - one.seconds })).filter((one) => one.seconds > 0);
}

/**
 * Where a rep stands in a segment of reps: {rep, of, cue}, counted from 1, or null where nothing is counted.
 * station: {measure, tempo, begins, rep} with the seconds of a rep. into: milliseconds into the segment.
 * @param {Segment} segment
 * @param {Station | undefined} station
 * @param {number} into
 * @returns {{ rep: number, of: number, cue: CueName } | null}
 */
export function repAt(segment, station, into) {
  const all = reps(segment, station);
  if (!station || !all || into < 0) return null;
  const one = position(station);
  const length = one.length * one.parts;
  const rep = Math.min(Math.floor(into / length), all - 1);
  const within = ((into - rep * length) % one.length) / SECOND;
  const cue = one.phases.findLast((phase) => phase.after <= within)?.cue ?? "rep";
  return { rep: rep + 1, of: all, cue };
}

/**
 * The side that does a rep, counted from 1, of `of` in a segment: "left", "right", or "" where both do. Alternating work
 * begins on the left, as all does; work for each side that has one stretch for both changes half-way.
 * @param {Segment} segment
 * @param {Station | undefined} station
 * @param {number} rep
 * @param {number} of
 */
export function sideOf(segment, station, rep, of) {
  if (!station || station.sides === "both") return "";
  if (segment.side) return segment.side;
  if (station.measure !== "reps" && station.measure !== "time") return "";
  if (station.sides === "alternating") return rep % 2 ? "left" : "right";
  return rep <= of / 2 ? "left" : "right";
}

/**
 * The cues of the stretches that lie ahead until a time (see `ahead` in state.js), in order: [{at, cue}].
 * paced: whether reps are counted out.
 * @param {Plan} plan
 * @param {Record<string, Station>} stations
 * @param {Stretch[]} stretches
 * @param {number} until
 * @param {boolean} paced
 * @returns {Cue[]}
 */
export function cues(plan, stations, stretches, until, paced) {
  const found = stretches.flatMap((stretch, number) => {
    const segment = plan.segments[stretch.index];
    const before = stretches[number - 1];
    /** @type {Cue[]} */
    const own =
      segment.kind === "work" && !stations[segment.station ?? ""]?.out
        ? ofWork(segment, stations[segment.station ?? ""], stretch, quietBefore(plan, before, stretch), paced)
        : segment.kind === "side change"
          ? [{ at: stretch.from, cue: "turn" }]
          : [];
    const { to } = stretch;
    const last = number === stretches.length - 1 && to !== null && to < until;
    return last ? [...own, /** @type {Cue} */ ({ at: to, cue: "finish" })] : own;
  });
  return found.sort((one, other) => one.at - other.at);
}

/**
 * From when on the coming work may be counted in: not while something else is done.
 * @param {Plan} plan
 * @param {Stretch | undefined} before
 * @param {Stretch} stretch
 */
function quietBefore(plan, before, { from }) {
  if (!before) return -Infinity;
  return plan.segments[before.index].kind === "work" ? from : before.from;
}

/**
 * @param {Segment} segment
 * @param {Station | undefined} station
 * @param {Stretch} stretch
 * @param {number} quiet
 * @param {boolean} paced
 * @returns {Cue[]}
 */
function ofWork(segment, station, { from, to }, quiet, paced) {
  /** @type {Cue[]} */
  const found = [{ at: from, cue: "go" }];
  for (let count = COUNT; count; count -= 1) {
    const at = from - count * SECOND;
    if (at >= quiet) found.push({ at, cue: "count" });
  }
  if (to !== null) found.push({ at: to, cue: "end" });
  const all = paced ? reps(segment, station) : 0;
  if (station && all) found.push(...beats(station, all, from, to ?? Infinity));
  return found;
}

/**
 * How many reps are counted out in a segment: those of the dose, or as many as fit into its time.
 * @param {Segment} segment
 * @param {Station | undefined} station
 */
function reps(segment, station) {
  if (!station?.rep || station.out || segment.kind !== "work") return 0;
  if (station.measure === "reps") return segment.reps ?? 0;
  return station.measure === "time" ? Math.floor(segment.length / (station.rep * SECOND)) : 0;
}

/**
 * A rep in milliseconds and phases; one of several positions goes through the phases once for each.
 * @param {Station} station
 */
function position({ tempo, begins, rep }) {
  const own = phases(tempo, begins);
  const seconds = own.reduce((sum, phase) => sum + (phase.seconds ?? 0), 0) || (rep ?? 1);
  return { phases: own, length: seconds * SECOND, parts: Math.max(1, Math.round((rep ?? 1) / seconds)) };
}

/**
 * @param {Station} station
 * @param {number} all
 * @param {number} from
 * @param {number} to
 * @returns {Cue[]}
 */
function beats(station, all, from, to) {
  const one = position(station);
  return Array.from({ length: all * one.parts }, (_, number) =>
    one.phases.map(({ cue, after }) => ({ at: from + number * one.length + after * SECOND, cue })),
  )
    .flat()
    .filter((beat) => beat.at < to);
}
