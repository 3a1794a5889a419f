// One guided session from its first tap to its last: takes the taps, asks the clock, and tells the screen, the sound
// and the log what has become of it.

import { absorb } from "../log/record.js";
import { keep, records } from "../log/records.js";
import { askToStay, read, write } from "../store.js";
import { clock } from "./clock.js";
import { stationsNow, withoutJumps } from "./choices.js";
import { cues, repAt, sideOf } from "./cues.js";
import { keepAwake, vibration, voice } from "./device.js";
import { showFinish } from "./finish.js";
import { Figures } from "./figures.js";
import { Hearing } from "./hearing.js";
import { NowLine } from "./now.js";
import { forgetRunning, keepRunning } from "./running.js";
import { Screen } from "./screen.js";
import { keepSettings, settings } from "./settings.js";
import { ahead, state } from "./state.js";
import { askToStop } from "./stop.js";
import { isWork, lengthWords, spoken, stationAt, words, workAt } from "./words.js";

/** @import {Player} from "./sound.js" */
/** @import {Events, LogRecord, Order, Place, ScreenWords, SessionEvent, Settings, State} from "../types.js" */

const EACH = 5_000;
/** A rep shorter than this is over before its side is said. */
const SAYABLE = 1.5;
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
  #sideSaid = "";
  /** @type {ReturnType<typeof askToStop> | null} */
  #asking = null;
  /** @type {Promise<typeof import("../log/save.js")> | null} */
  #saving = null;

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
    /** Whether the session begins without jumps. */
    this.leavesOutJumps = false;
    this.there = { sound: player.there, voice: voice.there, vibration: vibration.there };
    const rule = main.querySelector(".stop strong")?.textContent ?? "";
    this.figures = new Figures(order.guide, main.dataset.figures ?? "");
    this.figures.more(order.guide, document.body.dataset.root ?? "");
    const lands = Object.values(order.plan.rules ?? {}).some((one) => one.lands);
    const place = { rule, figure: this.figures.element, terms: order.guide.terms, lands };
    this.screen = new Screen(main, place, {
      act: (name) => this.act(name),
      choose: (name, value) => this.choose(name, value),
      way: (way) => this.act("way", { station: stationAt(this.now, this.segment)?.label, way }),
      stop: () => this.askToStop(),
    });
    this.hearing = new Hearing(player, this.screen, () => this.tick());
    this.nowLine = new NowLine(order, /** @type {SVGElement} */ (main.querySelector(".ribbon")));
  }

  get segment() {
    return this.order.plan.segments[this.at.index];
  }

  /** The order with its stations as they are done now. */
  get now() {
    return { ...this.order, stations: stationsNow(this.order, this.at) };
  }

  /**
   * Stop is asked, and the clock stands meanwhile; what hurts is told in the log at once.
   */
  askToStop() {
    if (this.#asking) return;
    const ran = this.at.phase !== "paused";
    if (ran) this.act("pause");
    const label = stationAt(this.now, this.segment);
    const station = label?.shown || label?.label || "";
    const report = (/** @type {"hurts" | "too hard"} */ why, where = "") => {
      const told = { station, where, why, note: "", time: this.clock.now() };
      this.record = { ...this.record, reports: [...this.record.reports, told] };
      this.log(this.clock.now());
      this.persist();
    };
    const end = () => {
      this.#asking = null;
      this.act("stop");
    };
    const club = this.main.querySelector(".stop .hurt span")?.textContent ?? "";
    this.#asking = askToStop(this.screen.element, club, {
      stop: (why) => {
        if (why === "too hard") report(why);
        end();
      },
      hurts: (where) => {
        report("hurts", where);
        end();
      },
      on: () => {
        this.#asking = null;
        if (ran) this.act("resume");
        this.screen.focus();
      },
    });
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
    addEventListener("pagehide", () => this.hide(), { signal });
    addEventListener("pageshow", () => this.tick(), { signal });
    document.addEventListener("keydown", (event) => this.key(event), { signal });
    // Not when a finger comes down: what this takes off the screen would move the button from under it.
    document.addEventListener("click", () => this.awakenSound(), { signal });
    this.awakenSound();
    if (this.events.length) this.takeUp(before);
    else {
      this.act("start", { pace: this.wishes.pace });
      if (this.leavesOutJumps) this.act("jumps", { off: true });
    }
    this.log(this.seen);
  }

  /** The page goes away: what hurts has been said by then, though nobody has saved it. */
  hide() {
    this.#asking?.leave();
    this.persist();
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
   * @param {keyof Settings | "noJumps"} name
   * @param {any} value
   */
  choose(name, value) {
    if (name === "noJumps") {
      this.leaveOutJumps(value);
      return;
    }
    this.wishes = { ...this.wishes, [name]: value };
    keepSettings(this.site, this.wishes);
    this.screen.wish(this.wishes, this.there);
    if (name === "pace") this.act("pace", { pace: value });
    if (name === "voice" && !value) voice.hush();
    this.hearing.clear();
    this.awakenSound();
    this.tick();
  }

  /** @param {boolean} off */
  leaveOutJumps(off) {
    this.act("jumps", { off });
    if (!off) {
      this.screen.dismiss("jumps");
      return;
    }
    const told = `No jumps today. ${withoutJumps(this.order).join(". ")}. Tell your coach.`;
    this.screen.notice("jumps", told, [["OK", () => {}]]);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (this.#asking || event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
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
    this.screen.showJumps(this.at.noJumps);
    this.nowLine.show(this.at);
    this.showFigure();
    const next = this.at.left === null ? LONGEST_TICK : (this.at.left % 1000) + 1;
    if (this.at.phase !== "paused") this.#timer = setTimeout(() => this.tick(), Math.min(next, LONGEST_TICK));
    const shown = `${this.at.index} ${this.at.phase} ${this.events.length}`;
    if (shown !== this.#shown) this.change(said);
    this.#shown = shown;
    this.playAhead(now);
    if (now - this.persisted > EACH) this.persist();
  }

  /** The figure of what is done, or in between of what comes; and the side of a rep is said. */
  showFigure() {
    const { now, segment, at } = this;
    const station = stationAt(now, segment);
    const working = isWork(now, segment);
    const rep = working && !at.waits ? repAt(segment, station, at.into) : null;
    const side = (workAt(now, segment)?.side ?? "") || "";
    const seconds = working && at.into > 0 ? at.into / 1000 : performance.now() / 1000;
    const moves = at.phase !== "paused";
    this.screen.element.classList.toggle("bare", !this.figures.show({ station, side, seconds, moves }));
    const says = rep ? sideOf(segment, station, rep.rep, rep.of) : "";
    const key = `${at.index} ${rep?.rep} ${says}`;
    if (says && !segment.side && key !== this.#sideSaid && moves && (station?.rep ?? 0) >= SAYABLE) {
      if (this.wishes.voice && (rep?.rep ?? 0) > 1) voice.say(says);
    }
    this.#sideSaid = key;
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
    const label = stationAt(this.now, this.segment)?.label ?? "";
    const planned = this.order.stations[label];
    const ways = (planned?.ways ?? []).map(({ way }) => way);
    this.screen.showWays(planned?.name, ways, this.at.chosen[label] ?? "");
    this.persist();
  }

  /** @param {number} now */
  playAhead(now) {
    const { plan, stations } = this.now;
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
    const own = this.at.done.map((number, index) => this.loggedBout(number, this.at.ways[index]));
    // Another tab may have written more into the record.
    const others = this.record.stations.slice(this.logged);
    this.logged = own.length;
    this.record.stations = own;
    absorb(this.record, { ...this.record, stations: others });
    this.record.seconds = Math.round(this.at.spent.reduce((sum, one) => sum + one, 0) / 1000);
    this.record.ended = this.at.phase === "over" ? (this.record.ended ?? now) : null;
    const refused = keep(this.site, this.record);
    if (refused) {
      // While the site still has the build of this session.
      this.#saving ??= import("../log/save.js");
      this.screen.notice("unkept", refused);
    } else this.screen.dismiss("unkept");
  }

  /**
   * A bout as it was done.
   * @param {number} number
   * @param {string} way
   */
  loggedBout(number, way) {
    const { plan } = this.order;
    const { station, round, parts } = plan.bouts[number];
    const planned = this.order.stations[station];
    const isInstead = way !== "" && way === plan.rules?.[station]?.instead?.way;
    const done = stationsNow(this.order, { chosen: { [station]: isInstead ? "" : way }, noJumps: isInstead })[station];
    const seconds = parts.reduce((sum, part) => sum + plan.segments[part].length, 0);
    const reps = parts.reduce((sum, part) => sum + (plan.segments[part].reps ?? 0), 0);
    const counted = done.measure === "reps" || done.measure === planned.measure ? reps : 0;
    const { exercise, name } = done;
    const dose = done.dose || lengthWords(seconds);
    return { label: planned.shown || planned.label, exercise, name, round, dose, reps: counted || null, way };
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
    const hurts = this.record.reports.findLast((one) => one.why === "hurts");
    const told = {
      title: this.at.stopped ? "Stopped" : "Done",
      hurts: hurts ? (this.main.querySelector(".stop .hurt span")?.textContent ?? "") : null,
      words: `${lengthWords(this.record.seconds * 1000)}, ${this.record.stations.length} of ${bouts} sets finished.`,
      effort: this.record.effort,
      note: this.record.note || (this.at.noJumps ? "No jumps today." : ""),
    };
    this.screen.element.hidden = true;
    this.form = showFinish(this.main, told, {
      save: (answer) => this.save(answer),
      saveFile: () => void this.#saving?.then(({ saveLog }) => saveLog(this.site, records(this.site))),
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
    if (refused) {
      this.#saving ??= import("../log/save.js");
      return refused;
    }
    askToStay();
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
    this.#asking?.close();
    this.#asking = null;
    this.release();
    this.closed();
  }
}
