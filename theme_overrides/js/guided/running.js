// The session that is under way, kept on the device so that a reload or a crash finds it again.

import { fault } from "../log/record.js";
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
  return found.sort((one, other) => other.seen - one.seen)[0] ?? null;
}

/**
 * @param {any} value
 * @param {PageSession} session
 */
function isOf(value, { address, plan }) {
  if (value?.address !== address || value.plan !== plan) return false;
  const whole =
    Array.isArray(value.events) && value.events.every((/** @type {any} */ event) => Number.isFinite(event?.at));
  return whole && value.events[0]?.type === "start" && Number.isFinite(value.seen) && !fault(value.record);
}

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
