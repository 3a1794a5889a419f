// The guided session on the page: its elements, and what they show. It is told what to say; it works nothing out.

import { fill } from "./terms.js";

/** @import {ScreenWords, Settings, State} from "../types.js" */

const MARKUP = `
<p class="at"><b class="mark" data-say="mark"></b> <span data-say="round"></span> <span data-say="toGo"></span></p>
<div class="face"><p class="digits" data-say="digits" aria-hidden="true"></p>
<p class="count" data-say="count" aria-hidden="true"></p></div>
<div class="told">
<h2 data-say="what" dir="auto"></h2>
<p class="next" data-say="next" dir="auto"></p>
<p class="bout"><strong data-say="dose"></strong> <span data-say="detail" dir="auto"></span></p>
<p class="sides"><b data-say="side"></b> <span data-say="means" dir="auto"></span></p>
<p class="load" data-say="load"></p>
<p class="tip" data-say="cue" dir="auto"></p>
</div>
<p class="sr" role="status" data-live></p>
<div class="says" data-notices></div>
<div class="hand">
<div class="taps"><button type="button" data-more aria-controls="wishes">Easier, more</button>
<button type="button" class="tap" data-do="done" hidden disabled>Done</button>
<button type="button" class="tap" data-do="round" hidden>Round done</button></div>
<div class="keys" role="group" aria-label="Session">
<button type="button" data-do="back">Back</button>
<button type="button" data-do="pause">Pause</button>
<button type="button" data-do="skip">Skip</button>
<button type="button" data-stop>Stop</button>
</div></div>
<details class="wishes" id="wishes"><summary>Easier way, jumps, sound, pace</summary>
<div data-ways></div>
<p data-jumps hidden><label><input type="checkbox" name="noJumps"> No jumps today</label></p>
<fieldset><legend>Reps</legend>
<button type="button" data-pace="paced">Follow the beat</button>
<button type="button" data-pace="own">At my own pace: I tap when done</button></fieldset>
<fieldset><legend>Tell me by</legend>
<label><input type="checkbox" name="sound"> sound</label>
<label><input type="checkbox" name="voice"> voice</label>
<label><input type="checkbox" name="vibration"> vibration</label></fieldset>
</details>`;

/**
 * @typedef {object} Acts
 * @property {(name: any) => void} act
 * @property {(name: any, value: any) => void} choose
 * @property {(way: string) => void} way
 * @property {() => void} stop
 */
/** @typedef {{ sound: boolean, voice: boolean, vibration: boolean }} There what the device has */

export class Screen {
  /** @type {Partial<ScreenWords>} */
  #said = {};
  /** @type {Map<string, HTMLElement>} */
  #notices = new Map();
  #listed = "";

  /**
   * act(name) is called for every button, choose(name, value) for every wish, way(words) for an easier way.
   * figure: the place of the figure. terms: words that a tap explains.
   * @param {HTMLElement} main
   * @param {{ rule: string, figure: HTMLElement, terms: Record<string, string>, lands: boolean }} given
   * @param {Acts} acts
   */
  constructor(main, { rule: stopRule, figure, terms, lands }, { act, choose, way, stop }) {
    this.main = main;
    this.way = way;
    this.terms = terms;
    this.element = document.createElement("section");
    this.element.className = "guide";
    this.element.setAttribute("aria-label", "Guided session");
    this.element.innerHTML = MARKUP;
    this.places = /** @type {HTMLElement[]} */ ([...this.element.querySelectorAll("[data-say]")]);
    const rule = document.createElement("p");
    rule.className = "rule";
    rule.textContent = stopRule;
    this.element.append(rule);
    this.#find(".face").after(figure);
    /** @type {HTMLElement} */ (this.#find("[data-jumps]")).hidden = !lands;
    this.element.addEventListener("click", (event) => {
      const target = /** @type {Element} */ (event.target);
      const name = /** @type {HTMLElement | null} */ (target.closest("[data-do]"))?.dataset.do;
      if (name) act(name);
      const pace = /** @type {HTMLElement | null} */ (target.closest("[data-pace]"))?.dataset.pace;
      if (pace) choose("pace", pace);
      const term = /** @type {HTMLElement | null} */ (target.closest("[data-term]"))?.dataset.term;
      if (term) this.notice("term", this.terms[term], [["OK", () => {}]]);
      if (target.closest("[data-stop]")) stop();
      if (target.closest("[data-more]")) this.#showMore();
    });
    this.element.addEventListener("change", (event) => {
      const target = /** @type {HTMLInputElement} */ (event.target);
      if (target.name) choose(target.name, target.checked);
    });
    // A switch may know no other key.
    this.element.addEventListener("keydown", (event) => {
      const target = /** @type {HTMLInputElement} */ (event.target);
      if (event.key === "Enter" && target.type === "checkbox") target.click();
    });
  }

  /**
   * @param {string} selector
   * @returns {HTMLElement}
   */
  #find(selector) {
    return /** @type {HTMLElement} */ (this.element.querySelector(selector));
  }

  /** Opens what is folded away, and leads there; closes it again. */
  #showMore() {
    const more = /** @type {HTMLDetailsElement} */ (this.#find(".wishes"));
    more.open = !more.open;
    if (more.open) {
      more.scrollIntoView({ block: "start" });
      this.#find(".wishes summary").focus({ preventScroll: true });
    } else scrollTo(0, 0);
  }

  /** @param {string} selector */
  #ofPage(selector) {
    return /** @type {any} */ (this.main.querySelector(selector));
  }

  open() {
    this.#ofPage(".about").after(this.element);
    document.body.classList.add("guided");
    this.#ofPage("details.order").open = true;
    // Beside the digits it may have to be scrolled, by keys too.
    this.#ofPage(".stop").tabIndex = 0;
    scrollTo(0, 0);
    this.focus();
  }

  close() {
    document.body.classList.remove("guided");
    this.#ofPage("details.order").open = false;
    this.#ofPage(".stop").removeAttribute("tabindex");
    this.element.remove();
  }

  /**
   * @param {string} name
   * @returns {HTMLButtonElement}
   */
  one(name) {
    return /** @type {HTMLButtonElement} */ (this.#find(`[data-do="${name}"]`));
  }

  /**
   * Texts for their places; only what has changed is written.
   * @param {ScreenWords} words
   * @param {State} state
   */
  show(words, state) {
    for (const place of this.places) {
      const name = /** @type {keyof ScreenWords} */ (place.dataset.say);
      if (this.#said[name] === words[name]) continue;
      this.#said[name] = words[name];
      if (name === "cue") fill(place, words.cue, this.terms);
      else place.textContent = words[name];
      place.hidden = !words[name];
    }
    this.#find(".digits").classList.toggle("long", words.digits.length > 4);
    this.element.dataset.phase = state.phase;
    this.element.dataset.now = words.dose ? "work" : "between";
    this.one("round").hidden = state.blockLeft === null || state.pace === "own";
    this.one("round").disabled = state.phase !== "going";
    const pause = state.phase === "paused" ? "Go on" : "Pause";
    if (this.one("pause").textContent !== pause) this.one("pause").textContent = pause;
    this.#offerTap(state);
  }

  /**
   * The focus follows the button that comes next to hand, but is not taken from anything else. At own pace the
   * button's place stays: a second tap must not fall on what moves up.
   * @param {State} state
   */
  #offerTap({ pace, waits }) {
    const [tap, pause] = [this.one("done"), this.one("pause")];
    tap.hidden = pace !== "own";
    this.element.classList.toggle("own", !tap.hidden);
    if (tap.disabled !== waits) return;
    const from = waits ? pause : tap;
    const follows = document.activeElement === from || document.activeElement === document.body;
    tap.disabled = !waits;
    if (follows) this.focus();
  }

  /** To the button that is wanted next. */
  focus() {
    const tap = this.one("done");
    (tap.hidden || tap.disabled ? this.one("pause") : tap).focus({ preventScroll: true });
  }

  /**
   * For assistive technology, and only at a change.
   * @param {string} text
   */
  announce(text) {
    this.#find("[data-live]").textContent = text;
  }

  /**
   * The station's easier ways; `chosen` is the one in force.
   * @param {string | undefined} name
   * @param {string[]} ways
   * @param {string} chosen
   */
  showWays(name, ways, chosen) {
    const place = this.#find("[data-ways]");
    const listed = JSON.stringify([name, ways]);
    if (listed !== this.#listed) this.#listWays(place, name, ways);
    this.#listed = listed;
    for (const button of place.querySelectorAll("button")) {
      button.setAttribute("aria-pressed", String(button.value === chosen));
    }
  }

  /**
   * @param {Element} place
   * @param {string | undefined} name
   * @param {string[]} ways
   */
  #listWays(place, name, ways) {
    if (place.contains(document.activeElement)) this.#find("summary").focus({ preventScroll: true });
    place.replaceChildren();
    if (!ways.length) return;
    const group = document.createElement("fieldset");
    const legend = document.createElement("legend");
    legend.dir = "auto";
    legend.textContent = `Easier than \u2068${name}\u2069`;
    group.append(legend);
    for (const way of ["", ...ways]) {
      const button = document.createElement("button");
      button.type = "button";
      button.dir = "auto";
      button.value = way;
      button.textContent = way || "As planned";
      button.addEventListener("click", () => this.way(way));
      group.append(button);
    }
    place.append(group);
  }

  /**
   * @param {Settings} settings
   * @param {There} there
   */
  wish({ pace, ...chosen }, there) {
    for (const [name, value] of Object.entries(chosen)) {
      const box = /** @type {HTMLInputElement} */ (this.#find(`input[name="${name}"]`));
      const has = there[/** @type {keyof There} */ (name)];
      box.checked = value && has;
      box.disabled = !has;
      /** @type {HTMLElement} */ (box.parentElement).hidden = !has;
    }
    for (const button of /** @type {NodeListOf<HTMLElement>} */ (this.element.querySelectorAll("[data-pace]"))) {
      button.setAttribute("aria-pressed", String(button.dataset.pace === pace));
    }
  }

  /**
   * Whether jumps are left out, and which easier way is in force.
   * @param {boolean} off
   */
  showJumps(off) {
    /** @type {HTMLInputElement} */ (this.#find("input[name=noJumps]")).checked = off;
  }

  /**
   * Something to know or to decide, below the words; `buttons` is [[words, action]].
   * @param {string} name
   * @param {string} text
   * @param {[string, () => void][]} [buttons]
   */
  notice(name, text, buttons = []) {
    if (!buttons.length && this.#notices.get(name)?.textContent === text) return;
    this.dismiss(name);
    const box = document.createElement("div");
    box.setAttribute("role", "status");
    const words = document.createElement("p");
    words.textContent = text;
    box.append(words);
    for (const [label, action] of buttons) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = label;
      button.addEventListener("click", () => {
        this.dismiss(name);
        action();
      });
      box.append(button);
    }
    this.#notices.set(name, box);
    this.#find("[data-notices]").append(box);
  }

  /** @param {string} name */
  dismiss(name) {
    const box = this.#notices.get(name);
    const follows = box?.contains(document.activeElement);
    box?.remove();
    this.#notices.delete(name);
    if (follows) this.focus();
  }
}
