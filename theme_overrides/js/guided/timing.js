// How the audio clock stands to the page's own. Pure. Audio times are in seconds, the page's in milliseconds.

/** A way to the ear is no longer than this: headphones without a wire take up to a third of a second. */
const LONGEST_WAY = 0.5;
/** Until then some wrong answers look like a way to the ear. */
const YOUNG = 2;
/** A true answer is about what is heard now: at most so far ahead, and so old. */
const AHEAD = 50;
const OLD = 1_000;

/**
 * What the audio clock shows when performance.now() is 0, so that a sound put on it by that is heard in time.
 *
 * stamp: what getOutputTimestamp() says, {contextTime, performanceTime}. It knows how long the way to the ear is, but
 * engines have given it wrong: ahead by the age of the context (WebKit 2.50), divided by the sample rate, stuck, zero.
 * So it counts only where it agrees with both clocks but for a way to the ear.
 * @param {number} currentTime
 * @param {number} now
 * @param {AudioTimestamp} [stamp]
 */
export function offset(currentTime, now, { contextTime = 0, performanceTime = 0 } = {}) {
  const plain = currentTime - now / 1000;
  const told = contextTime - performanceTime / 1000;
  const way = plain - told;
  const agrees =
    currentTime > YOUNG &&
    performanceTime < now + AHEAD &&
    performanceTime > now - OLD &&
    way >= 0 &&
    way < LONGEST_WAY;
  return agrees ? told : plain;
}
