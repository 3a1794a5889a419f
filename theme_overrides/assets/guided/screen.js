// The guided session on the page: its elements, and what they show. It is told what to say; it works nothing out.

const MARKUP = `
<p class="at"><b class="mark" data-say="mark"></b> <span data-say="round"></span> <span data-say="toGo"></span></p>
<div class="face"><p class="digits" data-say="digits" aria-hidden="true"></p>
<p class="count" data-say="count" aria-hidden="true"></p></div>
<h2 data-say="what" dir="auto"></h2>
<p class="bout"><strong data-say="dose"></strong> <b data-say="side"></b> <span data-say="detail" dir="auto"></span></p>
<p class="tip" data-say="cue" dir="auto"></p>
<p class="next" data-say="next" dir="auto"></p>
<p class="sr" role="status" data-live></p>
<div class="says" data-notices></div>
<button type="button" class="tap" data-do="done" hidden>Done</button>
<div class="keys" role="group" aria-label="Session">
<button type="button" data-do="back">Back</button>
<button type="button" data-do="pause">Pause</button>
<button type="button" data-do="skip">Skip</button>
</div>
<details class="wishes"><summary>Easier way, sound, pace, stop</summary>
<div data-ways></div>
<fieldset><legend>Reps</legend>
<label><input type="radio" name="pace" value="paced"> follow the beat</label>
<label><input type="radio" name="pace" value="own"> at my own pace, I tap when done</label></fieldset>
<fieldset><legend>Tell me by</legend>
<label><input type="checkbox" name="sound"> sound</label>
<label><input type="checkbox" name="voice"> voice</label>
<label><input type="checkbox" name="vibration"> vibration</label></fieldset>
<p><button type="button" data-do="stop">Stop the session</button></p>
</details>`;

export class Screen {
  #said = {};
  #notices = new Map();

  /** act(name) is called for every button, choose(name, value) for every wish, way(words) for an easier way. */
  constructor(main, stop, { act, choose, way }) {
    this.main = main;
    this.way = way;
    this.element = document.createElement("section");
    this.element.className = "guide";
    this.element.setAttribute("aria-label", "Guided session");
    this.element.innerHTML = MARKUP;
    this.places = [...this.element.querySelectorAll("[data-say]")];
    const rule = document.createElement("p");
    rule.className = "rule";
    rule.textContent = stop;
    this.element.append(rule);
    this.element.addEventListener("click", (event) => {
      const name = event.target.closest("[data-do]")?.dataset.do;
      if (name) act(name);
    });
    this.element.addEventListener("change", ({ target }) => {
      if (target.name) choose(target.name, target.type === "radio" ? target.value : target.checked);
    });
  }

  open() {
    this.main.prepend(this.element);
    document.body.classList.add("guided");
    this.main.querySelector("details.order").open = true;
    scrollTo(0, 0);
    this.one("pause").focus({ preventScroll: true });
  }

  close() {
    document.body.classList.remove("guided");
    this.main.querySelector("details.order").open = false;
    this.element.remove();
  }

  one(name) {
    return this.element.querySelector(`[data-do="${name}"]`);
  }

  /** Texts for their places; only what has changed is written. */
  show(words, state) {
    for (const place of this.places) {
      const name = place.dataset.say;
      if (this.#said[name] === words[name]) continue;
      this.#said[name] = words[name];
      place.textContent = words[name];
      place.hidden = !words[name];
    }
    this.element.querySelector(".digits").classList.toggle("long", words.digits.length > 4);
    this.element.dataset.phase = state.phase;
    const pause = state.phase === "paused" ? "Go on" : "Pause";
    if (this.one("pause").textContent !== pause) this.one("pause").textContent = pause;
    this.#offerTap(state.phase === "going" && state.left === null);
  }

  /** The focus follows the button that comes next to hand, but is not taken from anything else. */
  #offerTap(wanted) {
    const [tap, pause] = [this.one("done"), this.one("pause")];
    if (tap.hidden !== wanted) return;
    const from = wanted ? pause : tap;
    const follows = document.activeElement === from || document.activeElement === document.body;
    tap.hidden = !wanted;
    if (follows) (wanted ? tap : pause).focus({ preventScroll: true });
  }

  /** For assistive technology, and only at a change. */
  announce(text) {
    this.element.querySelector("[data-live]").textContent = text;
  }

  /** The station's easier ways; `chosen` is the one in force. */
  showWays(name, ways, chosen) {
    const place = this.element.querySelector("[data-ways]");
    place.replaceChildren();
    if (!ways.length) return;
    const group = document.createElement("fieldset");
    const legend = document.createElement("legend");
    legend.textContent = `Easier than ${name}`;
    group.append(legend);
    for (const way of ["", ...ways]) {
      const button = document.createElement("button");
      button.type = "button";
      button.dir = "auto";
      button.textContent = way || "As planned";
      button.setAttribute("aria-pressed", String(way === chosen));
      button.addEventListener("click", () => this.way(way));
      group.append(button);
    }
    place.append(group);
  }

  wish({ pace, ...chosen }, there) {
    for (const [name, value] of Object.entries(chosen)) {
      const box = this.element.querySelector(`input[name="${name}"]`);
      box.checked = value && there[name];
      box.disabled = !there[name];
      box.parentElement.hidden = !there[name];
    }
    this.element.querySelector(`input[value="${pace}"]`).checked = true;
  }

  /** Something to know or to decide, below the words; `buttons` is [[words, action]]. */
  notice(name, text, buttons = []) {
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
    this.element.querySelector("[data-notices]").append(box);
  }

  dismiss(name) {
    this.#notices.get(name)?.remove();
    this.#notices.delete(name);
  }
}
