// What is heard of a session: keeps the coming cues on the audio clock, and says so where the device is silent.

import { PATIENCE } from "./sound.js";

/** @import {Cue} from "../types.js" */
/** @import {Player} from "./sound.js" */
/** @import {Screen} from "./screen.js" */

/** How far ahead sound is put on the audio clock: a tab in the background is woken once a minute. */
const AHEAD = 90_000;
const EACH = 5_000;
const WAITS = "Sound waits for a touch.";
const SILENT = "There is no sound just now. Look at the volume, and at the silent switch of a phone.";

export class Hearing {
  #heard = -Infinity;
  #isPlaying = false;
  #words = "";
  #told = "";
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #late;

  /**
   * turned is called when the device gives the sound or takes it away; the session then looks again.
   * @param {Player} player
   * @param {Screen} screen
   * @param {() => void} turned
   */
  constructor(player, screen, turned) {
    this.player = player;
    this.screen = screen;
    this.turned = turned;
    player.turned = turned;
  }

  /** Within the handler of a tap. What is still silent after a while is told. */
  awaken() {
    if (!this.player.silent) return;
    this.player.awaken();
    this.#late ??= setTimeout(() => {
      this.#late = undefined;
      this.#words ||= SILENT;
      this.turned();
    }, PATIENCE);
  }

  /** After a reload no touch has let sound begin, and that is told at once. */
  wait() {
    this.#words = WAITS;
  }

  /** Takes off what is planned: the session stands somewhere else, or sound is not wanted any more. */
  clear() {
    this.player.clear();
    this.#heard = -Infinity;
  }

  /**
   * Looks at the device, and puts on what is to come. wanted: whether sound is chosen. coming(until) gives the cues, or
   * none while the clock stands.
   * @param {number} now
   * @param {boolean} wanted
   * @param {(until: number) => Cue[]} coming
   * @param {(at: number) => number} performanceAt
   */
  look(now, wanted, coming, performanceAt) {
    const isPlaying = !this.player.silent;
    if (isPlaying !== this.#isPlaying || this.player.strays) this.clear();
    // What has played and does not any more was interrupted: by a call, the lock, another app.
    if (isPlaying) this.#words = "";
    else if (this.#isPlaying) this.#words = SILENT;
    this.#isPlaying = isPlaying;
    this.#tell(wanted && this.player.there ? this.#words : "");
    if (!wanted || !isPlaying || now - this.#heard < EACH) return;
    this.#heard = now;
    const until = now + AHEAD;
    const cues = coming(until).filter(({ at }) => at >= now && at < until);
    this.player.plan(cues, performanceAt);
  }

  /** @param {string} words */
  #tell(words) {
    if (words === this.#told) return;
    this.#told = words;
    if (words) this.screen.notice("silent", words, [["Sound on", () => this.#again()]]);
    else this.screen.dismiss("silent");
  }

  /** The notice goes, and comes back if it was in vain. */
  #again() {
    this.#words = this.#told = "";
    this.awaken();
  }

  close() {
    clearTimeout(this.#late);
    this.player.turned = () => {};
    this.player.close();
  }
}
