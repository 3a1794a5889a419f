// One guided session from its first tap to its last: takes the taps, asks the clock, and tells the screen, the sound
// and the log what has become of it.

import { absorb } from "../log/record.js";
import { keep } from "../log/records.js";
import { saveLog } from "../log/save.js";
import { read, write } from "../store.js";
import { clock } from "./clock.js";
import { cues } from "./cues.js";
import { keepAwake, vibration, voice } from "./device.js";
import { showFinish } from "./finish.js";
import { Hearing } from "./hearing.js";
import { NowLine } from "./now.js";
import { forgetRunning, keepRunning } from "./running.js";
import { Screen } from "./screen.js";
import { keepSettings, settings } from "./settings.js";
import { ahead, state } from "./state.js";
import { lengthWords, spoken, stationAt, words } from "./words.js";

/** @import {Player} from "./sound.js" */
/** @import {Events, LogRecord, Order, Place, ScreenWords, SessionEvent, Settings, State} from "../types.js" */

const EACH = 5_000;
const LONGEST_TICK = 250;
/** A gap like this was sleep or a crash: the athlete may have stood still. */
const GAP = 20_000;
const DARK =
  "This screen may go dark by itself. To see the session all the time, set it to stay on for longer in the settings of the device.";
/** @type {Record<string, number[]>} */
const SHAKES = { work: [300], over: [300, 150, 300], between: [120, 80, 120] };

export class Session {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  #shown = "";
  #open = true;
  #isDarkTold = false;

  /**
   * kept: {record, events, seen} as in running.js. player: what the tap that began it has woken. release lets go of the
   * session's lock. closed is called at the end.
   * @param {{ main: HTMLElement, order: Order, site: string, kept: { record: LogRecord, events: SessionEvent[], seen: number }, player: Player, release: () => void }} given
   */
  constructor({ main, order, site, kept, player, release }) {
    this.main = main;
    this.order = order;
    this.site = site;
    this.release = release;
    this.closed = () => {};
    this.record = kept.record;
    this.events = kept.events;
    this.logged = kept.record.stations.length;
    this.seen = kept.seen;
    // Nothing is written of its own accord before the first event is.
    this.persisted = Infinity;
    /** @type {string | null} */
    this.told = null;
    this.letSleep = () => {};
    /** @type {number | null} */
    this.away = null;
    /** @type {Place | null} */
    this.gap = null;
    /** @type {HTMLElement | null} */
    this.form = null;
    /** @type {AbortController | null} */
    this.listeners = null;
    /** @type {State} */
    this.at = state(order.plan, this.events, this.seen);
    this.clock = clock(kept.seen);
    this.wishes = settings(site);
    this.there = { sound: player.there, voice: voice.there, vibration: vibration.there };
    const stop = main.querySelector(".stop strong")?.textContent ?? "";
    this.screen = new Screen(main, stop, {
      act: (name) => this.act(name),
      choose: (name, value) => this.choose(name, value),
      way: (way) => this.act("way", { station: stationAt(this.order, this.segment)?.label, way }),
    });
    this.hearing = new Hearing(player, this.screen, () => this.tick());
    this.nowLine = new NowLine(order, /** @type {SVGElement} */ (main.querySelector(".ribbon")));
  }

  get segment() {
    return this.order.plan.segments[this.at.index];
  }

  open() {
    const before = this.seen;
    this.screen.open();
    this.screen.wish(this.wishes, this.there);
    this.nowLine.open();
    this.stayAwake();
    this.listeners = new AbortController();
    const { signal } = this.listeners;
    document.addEventListener("visibilitychange", () => this.turn(), { signal });
    addEventListener("pagehide", () => this.persist(), { signal });
    addEventListener("pageshow", () => this.tick(), { signal });
    document.addEventListener("keydown", (event) => this.key(event), { signal });
    // Not when a finger comes down: what this takes off the screen would move the button from under it.
    document.addEventListener("click", () => this.awakenSound(), { signal });
    this.awakenSound();
    if (this.events.length) this.takeUp(before);
    else this.act("start", { pace: this.wishes.pace });
    this.log(this.seen);
  }

  /**
   * Goes on after a reload, where no touch has let sound begin.
   * @param {number} before
   */
  takeUp(before) {
    this.away = before;
    this.hearing.wait();
    this.tick();
  }

  /** Where the device does not let the page do so, it is said once how to. */
  stayAwake() {
    this.letSleep = keepAwake(() => {
      const key = `told awake ${this.site}`;
      if (!this.#open || this.#isDarkTold || read(key)) return;
      this.#isDarkTold = true;
      write(key, "1");
      this.screen.notice("awake", DARK, [["OK", () => {}]]);
    });
  }

  /**
   * What the athlete does. Everything is an event with its time; what follows from it is for `state` to say.
   * @param {keyof Events} type
   * @param {object} [more]
   */
  act(type, more = {}) {
    this.awakenSound();
    if (type === "pause" && this.at.phase === "paused") type = "resume";
    this.events.push(/** @type {SessionEvent} */ ({ type, at: this.clock.now(), ...more }));
    this.hearing.clear();
    this.forgetGap();
    this.tick();
    this.persist();
  }

  /**
   * @param {keyof Settings} name
   * @param {any} value
   */
  choose(name, value) {
    this.wishes = { ...this.wishes, [name]: value };
    keepSettings(this.site, this.wishes);
    this.screen.wish(this.wishes, this.there);
    if (name === "pace") this.act("pace", { pace: value });
    if (name === "voice" && !value) voice.hush();
    this.hearing.clear();
    this.awakenSound();
    this.tick();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
    /** @type {Record<string, keyof Events>} */
    const names = { " ": this.at.waits ? "done" : "pause", ArrowRight: "skip", ArrowLeft: "back" };
    const name = names[event.key];
    const target = /** @type {Element} */ (event.target);
    const own = name === "pause" || name === "done" ? "button, summary, a" : "[data-order]";
    if (!name || this.at.phase === "over" || target.closest(`input, textarea, ${own}`)) return;
    event.preventDefault();
    // A key that is held down is one tap.
    if (!event.repeat) this.act(name);
  }

  /** The page has been hidden, or is seen again. */
  turn() {
    if (document.hidden) this.away ??= this.clock.now();
    else this.awakenSound();
    this.tick();
    if (document.hidden) this.persist();
  }

  awakenSound() {
    if (this.wishes.sound) this.hearing.awaken();
  }

  /** Looks at the clock and shows what it says. */
  tick() {
    if (!this.#open) return;
    clearTimeout(this.#timer);
    const now = this.clock.now();
    const { plan } = this.order;
    this.at = state(plan, this.events, now);
    const more = this.at.done.length !== this.logged;
    if (more) this.forgetGap();
    if (!document.hidden) this.comeBack(now);
    this.seen = now;
    if (more || this.at.phase === "over") this.log(now);
    if (this.at.phase === "over") {
      this.finish();
      return;
    }
    const said = words(this.order, this.at);
    this.screen.show(said, this.at);
    this.nowLine.show(this.at);
    const next = this.at.left === null ? LONGEST_TICK : (this.at.left % 1000) + 1;
    if (this.at.phase !== "paused") this.#timer = setTimeout(() => this.tick(), Math.min(next, LONGEST_TICK));
    const shown = `${this.at.index} ${this.at.phase} ${this.events.length}`;
    if (shown !== this.#shown) this.change(said);
    this.#shown = shown;
    this.playAhead(now);
    if (now - this.persisted > EACH) this.persist();
  }

  /**
   * The session has come to another segment, or has been told something.
   * @param {ScreenWords} said
   */
  change({ say }) {
    const { phase } = this.at;
    const told = phase === "paused" ? "Paused" : spoken(say);
    if (told !== this.told) {
      this.screen.announce(told);
      if (this.wishes.voice) voice.say(told);
      if (this.wishes.vibration && phase !== "paused") vibration.shake(SHAKES[this.segment.kind] ?? SHAKES.between);
    }
    this.told = told;
    const station = stationAt(this.order, this.segment);
    const chosen = this.events.findLast((event) => event.type === "way" && event.station === station?.label);
    const way = chosen?.type === "way" ? chosen.way : "";
    this.screen.showWays(station?.name, station?.ways ?? [], way);
    this.persist();
  }

  /** @param {number} now */
  playAhead(now) {
    const { plan, stations } = this.order;
    const { phase, pace } = this.at;
    this.hearing.look(
      now,
      this.wishes.sound,
      (until) =>
        phase === "paused" ? [] : cues(plan, stations, ahead(plan, this.events, now, until), until, pace === "paced"),
      (at) => this.clock.performanceAt(at),
    );
  }

  /**
   * The clock went on while the phone slept or nobody saw the page; the athlete may not have.
   * @param {number} now
   */
  comeBack(now) {
    const before = this.away ?? this.seen;
    this.away = null;
    if (now - before <= GAP) return;
    const { plan } = this.order;
    const then = state(plan, this.events, before);
    if (then.index === this.at.index || then.phase === "paused" || then.phase === "over") return;
    const place = { index: then.index, into: then.into, kept: then.done.length };
    const told = `You were away for ${lengthWords(now - before)}, and the clock went on.`;
    this.screen.notice("gap", told, [["Back to where I was", () => this.act("place", place)]]);
    this.gap = place;
  }

  /** Whoever has done something since then, or finished a set, is back. */
  forgetGap() {
    this.gap = null;
    this.screen.dismiss("gap");
  }

  /**
   * Writes what is finished into the log, at once.
   * @param {number} now
   */
  log(now) {
    const { plan, stations } = this.order;
    const own = this.at.done.map((number, index) => {
      const { station, round, parts } = plan.bouts[number];
      const { shown, label, exercise, name, dose } = stations[station];
      const reps = parts.reduce((sum, part) => sum + (plan.segments[part].reps ?? 0), 0);
      return { label: shown || label, exercise, name, round, dose, reps: reps || null, way: this.at.ways[index] };
    });
    // Another tab may have written more into the record.
    const others = this.record.stations.slice(this.logged);
    this.logged = own.length;
    this.record.stations = own;
    absorb(this.record, { ...this.record, stations: others });
    this.record.seconds = Math.round(this.at.spent.reduce((sum, one) => sum + one, 0) / 1000);
    this.record.ended = this.at.phase === "over" ? (this.record.ended ?? now) : null;
    const refused = keep(this.site, this.record);
    if (refused) this.screen.notice("unkept", refused);
    else this.screen.dismiss("unkept");
  }

  persist() {
    this.persisted = this.clock.now();
    const { record, events, seen, away } = this;
    if (this.#open) keepRunning(this.site, { ...this.order.session, record, events, seen: away ?? seen });
  }

  finish() {
    if (this.form) return;
    this.persist();
    this.letSleep();
    voice.hush();
    if (this.wishes.vibration) vibration.shake(SHAKES.over);
    const bouts = this.order.plan.bouts.filter(({ parts }) => this.order.plan.segments[parts[0]].line !== null).length;
    const told = {
      title: this.at.stopped ? "Stopped" : "Done",
      words: `${lengthWords(this.record.seconds * 1000)}, ${this.record.stations.length} of ${bouts} sets finished.`,
      effort: this.record.effort,
      note: this.record.note,
    };
    this.screen.element.hidden = true;
    this.form = showFinish(this.main, told, {
      save: (answer) => this.save(answer),
      saveFile: () => saveLog(this.site),
      back: () => this.unfinish(),
    });
    document.body.classList.add("finished");
  }

  /**
   * Gives why the device could not keep it, and stays; else goes to the log.
   * @param {{ effort: number | null, note: string }} answer
   */
  save({ effort, note }) {
    this.record = { ...this.record, effort, note };
    const refused = keep(this.site, this.record);
    if (refused) return refused;
    forgetRunning(this.site);
    this.leave();
    location.assign(new URL(`${document.body.dataset.root}log/`, location.href).href);
    return "";
  }

  /** Back from the form: a skip too many is undone, a stop taken back, a gap gone back over. */
  unfinish() {
    this.form?.remove();
    this.form = null;
    document.body.classList.remove("finished");
    this.screen.element.hidden = false;
    this.stayAwake();
    if (this.gap && !this.at.stopped) this.act("place", this.gap);
    else this.act("back");
    this.screen.focus();
  }

  /** It goes on in another tab. What was finished here is in the log before that. */
  handOver() {
    const now = this.clock.now();
    this.at = state(this.order.plan, this.events, now);
    this.log(now);
    this.leave();
  }

  /** Ends without a word. */
  leave() {
    this.#open = false;
    clearTimeout(this.#timer);
    this.listeners?.abort();
    this.hearing.close();
    this.letSleep();
    this.nowLine.close();
    this.form?.remove();
    this.screen.element.hidden = false;
    this.screen.close();
    document.body.classList.remove("finished");
    this.release();
    this.closed();
  }
}
