// The door to the audio clock: cues are put on it ahead of time, so that a busy page does not delay them.

/** @import {Cue, CueName} from "../types.js" */

/**
 * How each cue sounds: [frequency in Hz, where it glides to, seconds, loudness], one entry a sound, in turn.
 * @type {Record<CueName, [number, number, number, number][]>}
 */
const SOUNDS = {
  count: [[660, 660, 0.07, 0.5]],
  go: [[990, 990, 0.3, 1]],
  end: [
    [520, 520, 0.14, 0.9],
    [390, 390, 0.22, 0.9],
  ],
  turn: [
    [520, 520, 0.1, 0.9],
    [780, 780, 0.1, 0.9],
    [520, 520, 0.1, 0.9],
  ],
  finish: [
    [520, 520, 0.16, 0.9],
    [660, 660, 0.16, 0.9],
    [780, 780, 0.4, 0.9],
  ],
  // Told apart by ear: lowering glides down, lifting glides up, a pause stays where it is.
  lower: [[460, 300, 0.35, 0.6]],
  low: [[300, 300, 0.09, 0.6]],
  lift: [[300, 460, 0.25, 0.7]],
  high: [[460, 460, 0.09, 0.6]],
  rep: [[400, 400, 0.09, 0.7]],
};
const LOUDNESS = 0.5;
const FADE = 0.012;

export class Player {
  /** @type {Set<string>} */
  #planned = new Set();
  /** @type {GainNode | null} */
  #batch = null;
  /** @type {AudioContext | null} */
  context = null;

  get there() {
    return "AudioContext" in window;
  }

  get silent() {
    return this.context?.state !== "running";
  }

  /** A browser lets sound begin only once the page was touched. Whether it has begun now. */
  async awaken() {
    if (!this.silent || !this.there || navigator.userActivation?.hasBeenActive === false) return false;
    try {
      this.context ??= new AudioContext({ latencyHint: "interactive" });
      await this.context.resume();
    } catch {
      // Some other program has the sound; the screen goes on without.
    }
    return !this.silent;
  }

  /**
   * Puts cues on the audio clock. performanceAt: the time of performance.now() that belongs to a cue's `at`.
   * @param {Cue[]} cues
   * @param {(at: number) => number} performanceAt
   */
  plan(cues, performanceAt) {
    if (this.silent) return;
    try {
      this.#plan(cues, performanceAt);
    } catch {
      // The device has taken the sound away; the screen goes on without.
    }
  }

  /**
   * @param {Cue[]} cues
   * @param {(at: number) => number} performanceAt
   */
  #plan(cues, performanceAt) {
    const context = /** @type {AudioContext} */ (this.context);
    this.#batch ??= this.#newBatch(context);
    const now = performance.now();
    for (const { at, cue } of cues) {
      const key = `${at} ${cue}`;
      const due = performanceAt(at);
      if (this.#planned.has(key) || due < now) continue;
      this.#planned.add(key);
      this.#play(context, this.#batch, SOUNDS[cue], this.#contextTime(context, due));
    }
  }

  /** Takes back whatever has not been heard yet: the session has paused, or stands somewhere else. */
  clear() {
    try {
      this.#batch?.disconnect();
    } catch {
      // It is silent already.
    }
    this.#batch = null;
    this.#planned.clear();
  }

  close() {
    this.clear();
    this.context?.close().catch(() => {});
    this.context = null;
  }

  /** @param {AudioContext} context */
  #newBatch(context) {
    const gain = context.createGain();
    gain.gain.value = LOUDNESS;
    gain.connect(context.destination);
    return gain;
  }

  /**
   * The device plays what the context has at `contextTime` when the page's clock shows `performanceTime`.
   * @param {AudioContext} context
   * @param {number} due
   */
  #contextTime(context, due) {
    const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp?.() ?? {};
    const known = contextTime > 0 ? [contextTime, performanceTime] : [context.currentTime, performance.now()];
    return Math.max(known[0] + (due - known[1]) / 1000, context.currentTime);
  }

  /**
   * @param {AudioContext} context
   * @param {GainNode} batch
   * @param {[number, number, number, number][]} sounds
   * @param {number} start
   */
  #play(context, batch, sounds, start) {
    let at = start;
    for (const [from, to, seconds, loudness] of sounds) {
      const source = context.createOscillator();
      const gain = context.createGain();
      source.type = "triangle";
      source.frequency.setValueAtTime(from, at);
      source.frequency.linearRampToValueAtTime(to, at + seconds);
      gain.gain.setValueAtTime(0, at);
      gain.gain.linearRampToValueAtTime(loudness, at + FADE);
      gain.gain.setValueAtTime(loudness, at + seconds - FADE);
      gain.gain.linearRampToValueAtTime(0, at + seconds);
      source.connect(gain).connect(batch);
      source.start(at);
      source.stop(at + seconds);
      at += seconds;
    }
  }
}
