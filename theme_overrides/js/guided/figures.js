// The figure of what is done, moving in the tempo of the dose and mirrored to the side that works.
//
// Figures stand within a shadow root: their styles and those of the page know nothing of each other.

import { figureKey } from "./choices.js";

/** @import {Guide, Station} from "../types.js" */

/** Seconds by which a figure may be beside the clock before it is put right. */
const BESIDE = 0.2;

/**
 * @typedef {object} Shown what is to be seen
 * @property {Station | undefined} station
 * @property {string} side "left", "right", or "" where both work
 * @property {number} seconds from the beginning of its first rep
 * @property {boolean} moves
 */

export class Figures {
  /** @type {Map<string, SVGSVGElement>} */
  #drawn = new Map();
  /** @type {SVGSVGElement | null} */
  #now = null;
  #still = matchMedia("(prefers-reduced-motion: reduce)");

  /**
   * @param {Guide} guide
   * @param {string} styles address of the style of figures
   */
  constructor(guide, styles) {
    for (const [exercise, { figures }] of Object.entries(guide.exercises)) {
      for (const [tempo, text] of Object.entries(figures)) this.#keep(figureKey(exercise, tempo), text);
    }
    this.element = document.createElement("div");
    this.element.className = "figure";
    this.element.setAttribute("aria-hidden", "true");
    const root = this.element.attachShadow({ mode: "open" });
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.href = styles;
    this.place = document.createElement("div");
    root.append(link, this.place);
  }

  /**
   * Those of easier ways and of what is there instead of jumps, while there is time. Without them the words are enough.
   * @param {Guide} guide
   * @param {string} root way to the top of the site
   */
  async more(guide, root) {
    for (const [exercise, { picture }] of Object.entries(guide.exercises)) {
      const key = figureKey(exercise, "");
      if (!picture || this.#drawn.has(key)) continue;
      try {
        const answer = await fetch(root + picture);
        if (answer.ok) this.#keep(key, await answer.text());
      } catch {
        // No network, and nothing kept.
      }
    }
  }

  /**
   * @param {string} key
   * @param {string} text
   */
  #keep(key, text) {
    // The policy of the page would complain of a style of its own.
    const bare = text.replace(/<style>.*?<\/style>/s, "");
    const found = new DOMParser().parseFromString(bare, "image/svg+xml").documentElement;
    if (found.localName !== "svg") return;
    const svg = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.importNode(found, true)));
    for (const one of svg.querySelectorAll("title, script")) one.remove();
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    if (svg.dataset.s) unfold(svg);
    this.#drawn.set(key, svg);
  }

  /**
   * Whether there is a figure to show.
   * @param {Shown} shown
   */
  show({ station, side, seconds, moves }) {
    const svg = (station?.figure && this.#drawn.get(station.figure.key)) ?? null;
    if (svg !== this.#now) this.place.replaceChildren(...(svg ? [svg] : []));
    this.#now = svg;
    if (!svg || !station?.figure) return false;
    // Alternating work begins on the left.
    const first = side || (station.sides === "alternating" ? "left" : station.figure.drawn);
    svg.classList.toggle("mirrored", first !== station.figure.drawn);
    this.#keepTime(svg, seconds, moves && !this.#still.matches);
    return true;
  }

  /**
   * @param {SVGSVGElement} svg
   * @param {number} seconds
   * @param {boolean} moves
   */
  #keepTime(svg, seconds, moves) {
    const at = moves ? seconds : this.#still.matches ? Number(svg.dataset.k ?? 0) : seconds;
    if (Math.abs(svg.getCurrentTime() - at) > BESIDE) svg.setCurrentTime(Math.max(0, at));
    if (moves) svg.unpauseAnimations();
    else svg.pauseAnimations();
  }
}

/**
 * Puts back what drawing/compact.py left out: each path moves by the same times through its frames.
 * @param {SVGSVGElement} svg
 */
function unfold(svg) {
  const { f = "", s = "1", t = "", i = "" } = svg.dataset;
  const order = i.split(";").map(Number);
  const pens = Array.from({ length: Math.max(...order) + 1 }, () => [0, 0]);
  const added = numbers(f);
  for (const path of /** @type {NodeListOf<SVGElement>} */ (svg.querySelectorAll("[data-d]"))) {
    const form = path.dataset.d ?? "";
    /** @type {number[]} */
    const steps = [];
    const frames = pens.map((pen) => {
      let place = 0;
      return form.replace(/#/g, () => {
        const step = (steps[place] ?? 0) + added.next().value;
        steps[place] = step;
        pen[place % 2] += step;
        return ` ${place++ < 2 ? pen[(place + 1) % 2] : step}`;
      });
    });
    path.setAttribute("d", frames[0]);
    if (frames.every((frame) => frame === frames[0])) continue;
    const motion = document.createElementNS(svg.namespaceURI, "animate");
    const values = order.map((number) => frames[number]).join(";");
    const told = { attributeName: "d", dur: `${s}s`, repeatCount: "indefinite", keyTimes: t, values };
    for (const [name, value] of Object.entries(told)) motion.setAttribute(name, value);
    path.append(motion);
  }
  for (const limb of /** @type {NodeListOf<SVGElement>} */ (svg.querySelectorAll("[data-l]"))) {
    const looks = (limb.dataset.l ?? "").split(",");
    const paths = [...limb.children];
    limb.replaceChildren(
      ...looks.flatMap((look) =>
        paths.map((path) => {
          const copy = /** @type {Element} */ (path.cloneNode(true));
          if (look) copy.classList.add(look);
          return copy;
        }),
      ),
    );
  }
}

/**
 * The numbers that a sign each stands for, from -41 to 41; a last or first sign before it adds 42 or takes it away.
 * @param {string} signs
 * @returns {Generator<number, any>}
 */
function* numbers(signs) {
  let sum = 0;
  for (const sign of signs) {
    const code = sign.charCodeAt(0);
    // There is no "<" and no backslash.
    const value = code - 82 - Number(code > 60) - Number(code > 92);
    sum += value;
    if (Math.abs(value) === 42) continue;
    yield sum;
    sum = 0;
  }
}
