// The time of a session in milliseconds, like the date's but without its jumps.

/** A wall clock that is this much further on than the monotonic one means that the device has slept. */
const SLEPT = 2_000;

/**
 * A clock {now, performanceAt}. It follows the monotonic clock, so a date that is set back, or slowly put right, does
 * not move it. Some devices stop that clock while they sleep; the date then tells how long, and nothing tells such a
 * leap from a date set forward, which is the rarer of the two. But a leap to where the date would be if nobody had
 * touched it is a date put right. It never shows less than `earliest`, the last time that was seen before the page
 * was loaded again.
 * @param {number} [earliest]
 * @param {() => number} [monotonic]
 * @param {() => number} [wall]
 */
export function clock(earliest = 0, monotonic = () => performance.now(), wall = () => Date.now()) {
  const first = wall() - monotonic();
  let offset = Math.max(first, earliest - monotonic());
  let seen = first;
  // What the difference would be if nobody had touched the date.
  let right = first;
  return {
    now() {
      const difference = wall() - monotonic();
      const leap = difference - seen;
      if (leap > SLEPT) {
        const slept = difference > right - SLEPT ? Math.max(0, difference - right) : leap;
        offset += slept;
        right += slept;
      } else if (leap > -SLEPT) {
        right += leap;
      }
      seen = difference;
      return Math.round(monotonic() + offset);
    },
    /**
     * The time of performance.now() at which this clock will show `at`.
     * @param {number} at
     * @returns {number}
     */
    performanceAt(at) {
      return at - offset;
    },
  };
}
