// The now line: through the running order as the clock goes, and across the session's ribbon.

import { RIBBON } from "../shared.js";

/** @import {Order, State} from "../types.js" */

export class NowLine {
  /** @type {HTMLElement | null} */
  #current = null;

  /**
   * @param {Order} order
   * @param {SVGElement} ribbon
   */
  constructor({ list, lines, plan }, ribbon) {
    this.list = list;
    this.lines = lines;
    this.plan = plan;
    this.line = document.createElement("li");
    this.line.className = "now";
    this.line.setAttribute("aria-hidden", "true");
    this.mark = /** @type {SVGElement} */ (document.createElementNS(ribbon.namespaceURI, "path"));
    this.mark.setAttribute("class", "now");
    this.ribbon = ribbon;
    // The list grows and shrinks with the screen and with what stands around it.
    this.sizes = new ResizeObserver(() => this.#scroll());
  }

  open() {
    this.sizes.observe(this.list);
    this.list.append(this.line);
    this.list.tabIndex = 0;
    this.list.setAttribute("aria-label", "Running order");
    this.ribbon.append(this.mark);
  }

  close() {
    this.sizes.disconnect();
    this.line.remove();
    this.mark.remove();
    this.list.removeAttribute("tabindex");
    this.list.removeAttribute("aria-label");
    this.#point(null);
  }

  /** @param {State} state */
  show({ index, into }) {
    const segment = this.plan.segments[index];
    // What waits at the end of timed rounds has no line of its own: the last one before it stays.
    const shown = segment && this.plan.segments.slice(0, index + 1).findLast((one) => one.line !== null);
    const share = !segment ? 1 : shown !== segment ? 1 : Math.min(1, Math.max(0, into / segment.length));
    const line = (shown ? this.lines[/** @type {number} */ (shown.line)] : this.lines.at(-1)) ?? null;
    if (line !== this.#current) this.#point(line);
    if (!line) return;
    this.line.style.transform = `translateY(${line.offsetTop + line.offsetHeight * share}px)`;
    const at = segment && shown ? Math.min(this.plan.length, shown.start + share * shown.length) : this.plan.length;
    const x = (at / this.plan.length) * RIBBON.width;
    this.mark.setAttribute("d", `M${x.toFixed(1)} -1v${RIBBON.bar + 2}`);
  }

  /** @param {HTMLElement | null} line */
  #point(line) {
    this.#current?.removeAttribute("aria-current");
    this.#current = line;
    line?.setAttribute("aria-current", "step");
    this.#scroll();
  }

  /** The list has a scroll bar of its own, so the page itself stays where it is. */
  #scroll() {
    const line = this.#current;
    if (line) this.list.scrollTop = line.offsetTop - this.list.clientHeight / 3;
  }
}
