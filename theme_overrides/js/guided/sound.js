// The door to the audio clock: cues are put on it ahead of time, so that a busy page does not delay them.

import { offset } from "./timing.js";

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

/** What the ear does not notice, in seconds; and what is no chance of one look at the clocks. */
const SLIGHT = 0.05;
const PLAIN = 0.25;
/** How long a device may take to let sound begin, in milliseconds. */
export const PATIENCE = 1_000;

export class Player {
  /** @type {Set<string>} */
  #planned = new Set();
  /** @type {GainNode | null} */
  #batch = null;
  /** Of the audio clock, by which all that is planned was put on it. */
  #offset = 0;
  #isOff = false;
  /** @type {number | null} */
  #asked = null;
  /** @type {AudioContext | null} */
  context = null;
  /** Called when the device gives the sound or takes it away. */
  turned = () => {};

  get there() {
    return "AudioContext" in window;
  }

  get silent() {
    return this.context?.state !== "running";
  }

  /** Asks for sound. Many browsers listen only within the handler of a tap, so nothing may be awaited before this. */
  awaken() {
    if (!this.silent || !this.there || navigator.userActivation?.hasBeenActive === false) return;
    try {
      // After a call some devices never answer the old one again.
      if (this.#asked !== null && performance.now() - this.#asked > PATIENCE) this.close();
      this.context ??= this.#open();
      this.#asked ??= performance.now();
      this.context.resume().then(
        () => (this.#asked = null),
        () => {},
      );
    } catch {
      // Some other program has the sound; the screen goes on without.
    }
  }

  #open() {
    setKind("playback");
    const context = new AudioContext({ latencyHint: "interactive" });
    context.onstatechange = () => context === this.context && this.turned();
    return context;
  }

  /**
   * Whether what is planned would be heard at a wrong time, since the audio clock stood still for a while or the way to
   * the ear has changed.
   */
  get strays() {
    if (this.silent || !this.#batch) return false;
    const off = Math.abs(this.#measured() - this.#offset);
    const strays = off > PLAIN || (off > SLIGHT && this.#isOff);
    this.#isOff = off > SLIGHT;
    return strays;
  }

  #measured() {
    const context = /** @type {AudioContext} */ (this.context);
    return offset(context.currentTime, performance.now(), context.getOutputTimestamp?.());
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
    if (!this.#batch) {
      this.#batch = this.#newBatch(context);
      this.#offset = this.#measured();
    }
    const now = performance.now();
    for (const { at, cue } of cues) {
      const key = `${at} ${cue}`;
      const due = performanceAt(at);
      if (this.#planned.has(key) || due < now) continue;
      this.#planned.add(key);
      this.#play(context, this.#batch, SOUNDS[cue], Math.max(this.#offset + due / 1000, context.currentTime));
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
    this.context = this.#asked = null;
    setKind("auto");
  }

  /** @param {AudioContext} context */
  #newBatch(context) {
    const gain = context.createGain();
    gain.gain.value = LOUDNESS;
    gain.connect(context.destination);
    return gain;
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

/**
 * Says what the sound is for, where a device wants to know: the silent switch of a phone mutes what is no playback.
 * @param {"playback" | "auto"} kind
 */
function setKind(kind) {
  const session = /** @type {any} */ (navigator).audioSession;
  if (session) session.type = kind;
}
