// The session that is under way, kept on the device so that a reload or a crash finds it again.

import { fault, renewed } from "../log/record.js";
import { device, drop, put, readValue, tab } from "../store.js";

/** @import {PageSession, Running} from "../types.js" */

/** @param {string} home */
const key = (home) => `running ${home}`;

/** The name of the lock that is held while a session runs: no second tab, no update of the site in between. */
export const lockName = key;

/**
 * What the device keeps of the session under way, whatever it is.
 * @param {string} home
 */
export const kept = (home) => readValue(key(home));

/**
 * What was kept for a page, or null: {address, plan, record, events, seen}. Another page's session, or one whose running
 * order has changed, is not taken up; its finished stations are in the log already.
 * @param {string} home
 * @param {PageSession} session
 * @returns {Running | null}
 */
export function taken(home, session) {
  const found = [tab(), device()].map((store) => readValue(key(home), store)).filter((one) => isOf(one, session));
  const [newest] = found.sort((one, other) => other.seen - one.seen);
  return newest ? { ...newest, record: renewed(newest.record) } : null;
}

/**
 * @param {any} value
 * @param {PageSession} session
 */
function isOf(value, { address, plan }) {
  if (value?.address !== address || value.plan !== plan) return false;
  const { events, seen, record } = value;
  // Other pages of this host may write what they like, and `state` takes what it gets.
  const whole = Array.isArray(events) && events.length <= MOST_EVENTS && events[0]?.type === "start" && isTime(seen);
  return (
    whole &&
    events.every((/** @type {any} */ event) => isTime(event?.at) && (FITS.get(event.type)?.(event) ?? true)) &&
    !fault(record)
  );
}

/** More taps than a session of the most segments that the generator allows has, twice over; all are gone through often. */
const MOST_EVENTS = 10_000;

// Where a time is no whole number that can be told from the next, the clock might never come to the end of a segment.
const isTime = Number.isSafeInteger;
/** @param {any} event */
const hasPace = ({ pace }) => pace === "paced" || pace === "own";

/**
 * Whether an event has what `state` takes of its type; an unknown type is passed over there.
 * @type {Map<string, (event: any) => boolean>}
 */
const FITS = new Map(
  Object.entries({
    start: hasPace,
    pace: hasPace,
    place: (/** @type {any} */ { index, into, kept: number }) =>
      [index, number].every((one) => isTime(one) && one >= 0) && Number.isFinite(into),
    jumps: (/** @type {any} */ { off }) => typeof off === "boolean",
    way: (/** @type {any} */ { station, way }) => typeof station === "string" && typeof way === "string",
  }),
);

/**
 * Keeps it; this tab does where the device refuses. `seen` is the last time that the session's clock showed.
 * @param {string} home
 * @param {Running} running
 */
export function keepRunning(home, { address, plan, record, events, seen }) {
  const text = JSON.stringify({ address, plan, record, events, seen });
  if (put(device(), key(home), text)) put(tab(), key(home), text);
  else drop(tab(), key(home));
}

/** @param {string} home */
export function forgetRunning(home) {
  for (const store of [device(), tab()]) drop(store, key(home));
}
