// The session that is under way, kept on the device so that a reload or a crash finds it again.

import { fault } from "../log/record.js";
import { forget, readValue, write } from "../store.js";

const key = (home) => `running ${home}`;

/** The name of the lock that is held while a session runs: no second tab, no update of the site in between. */
export const lockName = key;

/**
 * What was kept for a page, or null: {address, plan, record, events, seen}. Another page's session, or one whose running
 * order has changed, is not taken up; its finished stations are in the log already.
 */
export function taken(home, { address, plan }) {
  const kept = readValue(key(home));
  if (kept?.address !== address || kept.plan !== plan) return null;
  const whole = Array.isArray(kept.events) && kept.events.every((event) => Number.isFinite(event?.at));
  return whole && kept.events[0]?.type === "start" && Number.isFinite(kept.seen) && !fault(kept.record) ? kept : null;
}

/** Keeps it; whether the device did. `seen` is the last time that the session's clock showed. */
export function keepRunning(home, { address, plan, record, events, seen }) {
  return write(key(home), JSON.stringify({ address, plan, record, events, seen }));
}

export function forgetRunning(home) {
  forget(key(home));
}
