// Where a session stands: (plan, events, now) → state. Pure, and the only place that knows what a tap does.
// Time comes in with every event and with `now`, in milliseconds; nothing here counts ticks.

import { chosen } from "./choices.js";

/** @import {Events, Pace, Plan, Segment, SessionEvent, State, Stretch} from "../types.js" */

/** Time to put the phone down before the first segment. */
export const LEAD = 5_000;
/** Later than this into a segment, "back" begins it again; earlier, it goes to the one before. */
export const AGAIN_AFTER = 2_000;

/**
 * events: [{type, at, …}] in the order they came. The first is a `start` with {pace}.
 *   start {pace}, pause, resume, skip, stop
 *   back          undoes a stop or a skip, begins the segment again, or goes to the one before
 *   done          the athlete has finished the reps of a station at own pace
 *   pace {pace}   "paced": the running order's time; "own": work in reps lasts until `done`
 *   place {index, into, kept}   goes to a place, with the first `kept` of the finished bouts: where the session
 *                 stood before the phone slept
 *   way {station, way}    an easier way was chosen from here on; changes no time
 *   jumps {off}   whether stations with landings give way to what is there instead of them
 *   round         the athlete has finished a round of timed rounds, and begins the next one
 *
 * Gives {phase, index, into, left, waits, pace, done, ways, chosen, noJumps, blockLeft, spent, idle, lead, stopped}
 *   phase   "ready" (the lead), "going", "paused" or "over"; `stopped` says that the athlete ended it
 *   index, into   the segment and the milliseconds into it; into is below 0 in the lead
 *   left    milliseconds to the segment's end, or null when only a tap ends it
 *   waits   whether a tap (`done`) ends the segment now; a full minute or the end of timed rounds may end it as well
 *   done    indexes of the plan's bouts that were finished, in the order they were
 *   ways    for each of `done` the easier way that was in force, or ""
 *   chosen  by station the way that was chosen there last; `noJumps` says whether jumps are left out
 *   blockLeft   milliseconds to the end of timed rounds, or null elsewhere
 *   spent   milliseconds spent in each segment. With `lead`, and with `idle` in which nothing ran, they come to
 *           the time since the start
 * @param {Plan} plan
 * @param {SessionEvent[]} events
 * @param {number} now
 * @returns {State}
 */
export function state(plan, events, now) {
  return place(plan, events, now).read();
}

/**
 * @param {Plan} plan
 * @param {SessionEvent[]} events
 * @param {number} now
 */
function place(plan, events, now) {
  const at = new Standing(plan);
  for (const event of events) {
    at.runTo(event.at);
    at.take(event);
  }
  at.runTo(now);
  return /** @type {Standing & { now: number }} */ (at);
}

class Standing {
  /** @param {Plan} plan */
  constructor(plan) {
    this.plan = plan;
    /** @type {number | null} */
    this.now = null;
    /** @type {Pace} */
    this.pace = "paced";
    this.running = false;
    this.stopped = false;
    // Whether it ran when it was stopped.
    this.ran = false;
    this.index = 0;
    this.into = 0;
    // Milliseconds since the segment's group began, for what ends at a full minute or with timed rounds.
    this.inGroup = 0;
    /** @type {Set<number>} */
    this.finished = new Set();
    /** @type {number[]} */
    this.done = [];
    /** @type {Set<number>} */
    this.isDone = new Set();
    this.boutOf = new Map(
      plan.bouts.flatMap(({ parts }, number) =>
        parts.map((part) => /** @type {[part: number, bout: number]} */ ([part, number])),
      ),
    );
    /** @type {Map<string, string>} */
    this.way = new Map();
    this.noJumps = false;
    /** @type {string[]} */
    this.ways = [];
    /** @type {{ index: number, into: number, inGroup: number, running: boolean, to: number, kept?: number }[]} */
    this.skips = [];
    this.spent = plan.segments.map(() => 0);
    this.idle = 0;
    this.lead = 0;
  }

  get segment() {
    return this.plan.segments[this.index];
  }

  /** @returns {boolean} */
  get waitsForTap() {
    if (this.pace !== "own" || !this.segment.own) return false;
    const { timed, out } = this.doing(this.segment.station);
    return !timed && !out;
  }

  /** @param {string | null} station */
  doing(station) {
    const label = station ?? "";
    return chosen(this.plan.rules?.[label], this.way.get(label) ?? "", this.noJumps);
  }

  get waits() {
    return this.running && !this.stopped && this.into >= 0 && this.waitsForTap;
  }

  /** Milliseconds to the end of the segment if nothing happens; Infinity when only a tap ends it. */
  get left() {
    const { kind, length, ends } = this.segment;
    // Who is done early waits longer for the full minute.
    const open = this.waitsForTap || (kind === "wait" && ends !== null);
    const own = open ? Infinity : length - this.into;
    // The group's clock stands still in the lead.
    const lead = Math.max(0, -this.into);
    return Math.max(0, ends === null ? own : Math.min(own, ends - this.inGroup + lead));
  }

  /** @param {number} now */
  runTo(now) {
    let time = this.now === null ? 0 : Math.max(0, now - this.now);
    this.now = Math.max(now, this.now ?? now);
    if (!this.running) {
      this.idle += time;
      return;
    }
    while (this.segment) {
      const step = Math.min(time, this.left);
      this.spend(step);
      time -= step;
      if (this.left > 0) return;
      this.end();
      this.skips = [];
    }
    this.idle += time;
  }

  /** @param {number} time */
  spend(time) {
    const lead = Math.min(time, Math.max(0, -this.into));
    this.lead += lead;
    this.spent[this.index] += time - lead;
    this.into += time;
    this.inGroup += time - lead;
  }

  /** The segment is over by itself. */
  end() {
    const { length, ends, index } = this.segment;
    if (this.into >= length) this.finish(index);
    const limit = ends !== null && this.inGroup >= ends;
    let next = index + 1;
    // Where the minute or the time of the rounds is up, the rest of what belonged to it is up too.
    while (limit && this.sameLimit(next)) next += 1;
    this.goTo(next, this.inGroup);
  }

  /** @param {number} index */
  sameLimit(index) {
    const next = this.plan.segments[index];
    return next?.group === this.segment.group && next.ends === this.segment.ends;
  }

  /**
   * @param {number} index
   * @param {number} inGroup
   */
  goTo(index, inGroup) {
    const before = this.segment?.group;
    this.index = index;
    this.into = 0;
    this.inGroup = this.segment?.group === before ? inGroup : (this.segment?.at ?? 0);
    if (!this.segment) this.running = false;
  }

  /** @param {number} index */
  finish(index) {
    const { out, way } = this.doing(this.plan.segments[index].station);
    if (out) return;
    this.finished.add(index);
    const number = this.boutOf.get(index);
    if (number === undefined || this.isDone.has(number)) return;
    const bout = this.plan.bouts[number];
    if (!bout.parts.every((part) => this.finished.has(part))) return;
    this.done.push(number);
    this.isDone.add(number);
    this.ways.push(way);
  }

  /**
   * Takes back what was finished after the first `kept` bouts, from a segment on.
   * @param {number} kept
   * @param {number} index
   */
  forget(kept, index) {
    this.done.length = this.ways.length = Math.min(kept, this.done.length);
    this.isDone = new Set(this.done);
    const parts = new Set(this.done.flatMap((number) => this.plan.bouts[number].parts));
    for (const one of this.finished) if (one >= index && !parts.has(one)) this.finished.delete(one);
  }

  /** @param {Pace} pace */
  follow(pace) {
    this.pace = pace;
  }

  /** @param {SessionEvent} event */
  take(event) {
    // What the store gives may have any type; one that is no key of ours does nothing.
    if (!Object.hasOwn(handlers, event.type)) return;
    /** @type {(this: Standing, event: any) => void} */ (handlers[event.type]).call(this, event);
  }

  /** @returns {State} */
  read() {
    const { index, into, waits, pace, done, ways, noJumps, spent, idle, lead, stopped } = this;
    const ends = this.segment?.timed ? this.segment.ends : null;
    const blockLeft = ends === null ? null : Math.max(0, ends - Math.max(0, this.inGroup));
    const over = stopped || !this.segment;
    const phase = over ? "over" : !this.running ? "paused" : into < 0 ? "ready" : "going";
    const left = this.segment && this.left < Infinity ? this.left : null;
    const kept = { done, ways, chosen: Object.fromEntries(this.way), noJumps };
    return { phase, index, into, left, waits, pace, ...kept, blockLeft, spent, idle, lead, stopped };
  }
}

/** @type {{ [T in keyof Events]: (this: Standing, event: Events[T]) => void }} */
const handlers = {
  start({ pace }) {
    this.follow(pace);
    this.running = Boolean(this.segment);
    this.into = -LEAD;
  },
  pause() {
    this.running = false;
  },
  resume() {
    this.stopped = false;
    this.running = Boolean(this.segment);
  },
  stop() {
    if (!this.stopped) this.ran = this.running;
    this.running = false;
    this.stopped = true;
  },
  pace({ pace }) {
    this.follow(pace);
  },
  way({ station, way }) {
    this.way.set(station, way);
  },
  jumps({ off }) {
    this.noJumps = off;
  },
  round() {
    const { index, into, inGroup, running, segment } = this;
    if (!running || this.stopped || !segment?.timed || segment.round === null || into < 0) return;
    const { round, group } = segment;
    const kept = this.done.length;
    const ofGroup = this.plan.segments.slice(index).filter((one) => one.group === group);
    const own = ofGroup.filter((one) => one.round === round);
    for (const one of own) if (one.kind === "work") this.finish(one.index);
    const next = ofGroup.find((one) => one.round !== round)?.index ?? index + ofGroup.length;
    this.goTo(next, inGroup);
    this.skips.push({ index, into, inGroup, running, to: next, kept });
  },
  done() {
    if (!this.waits) return;
    this.finish(this.index);
    this.goTo(this.index + 1, this.inGroup);
    this.skips = [];
  },
  skip() {
    if (this.stopped || !this.segment) return;
    const { index, into, inGroup, running } = this;
    if (into < 0) this.into = 0;
    else this.goTo(index + 1, this.sameLimit(index + 1) ? inGroup : (this.segment.ends ?? inGroup));
    this.skips.push({ index, into, inGroup, running, to: this.index });
  },
  back() {
    if (this.stopped) {
      this.stopped = false;
      this.running = this.ran;
      return;
    }
    const skipped = this.skips.pop();
    if (skipped?.to === this.index) {
      this.running ||= skipped.running && !this.segment;
      this.index = skipped.index;
      this.into = skipped.into;
      this.inGroup = skipped.inGroup;
      if (skipped.kept !== undefined) this.forget(skipped.kept, skipped.index);
      return;
    }
    this.skips = [];
    if (this.into < 0) return;
    if (!this.segment) {
      this.goTo(
        this.plan.segments.findLastIndex((one) => one.line !== null),
        0,
      );
      this.inGroup = /** @type {Segment | undefined} */ (this.segment)?.at ?? 0;
      this.running = Boolean(this.segment);
      return;
    }
    const began = this.inGroup - this.into;
    if (this.into >= AGAIN_AFTER || this.index === 0) {
      this.into = 0;
      this.inGroup = began;
      return;
    }
    const before = this.plan.segments[this.index - 1];
    this.goTo(this.index - 1, Math.max(0, Math.min(began, before.at)));
  },
  place({ index, into, kept }) {
    if (this.stopped) return;
    this.forget(kept, index);
    this.index = Math.min(Math.max(0, index), this.plan.segments.length);
    this.into = this.segment ? into : 0;
    this.inGroup = this.segment ? this.segment.at + Math.max(0, into) : 0;
    this.skips = [];
    this.running = Boolean(this.segment);
  },
};

/**
 * What will happen until a time if nobody does anything: [{index, from, to}] with the times at which a segment
 * begins and ends. The first is the one under way; `to` is null where only a tap ends it. Empty when nothing runs.
 * @param {Plan} plan
 * @param {SessionEvent[]} events
 * @param {number} now
 * @param {number} until
 * @returns {Stretch[]}
 */
export function ahead(plan, events, now, until) {
  const at = place(plan, events, now);
  /** @type {Stretch[]} */
  const found = [];
  while (at.running && at.now < until) {
    const { left, index, into } = at;
    found.push({ index, from: at.now - into, to: left === Infinity ? null : at.now + left });
    // What is left may be less than the clock can tell apart; it has passed before anyone hears of it.
    if (left === Infinity || (left > 0 && at.now + left === at.now)) break;
    at.runTo(at.now + left);
  }
  return found;
}
