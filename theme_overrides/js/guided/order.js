// Reads the session page: the running order, its stations, and what they are called.

import { plan } from "./plan.js";

/** @import {Line, Order, PageSession, Station} from "../types.js" */

const MILLISECONDS = 1_000;

/**
 * {plan, stations, blocks, lines, session} of a session page; `lines` are the list's own elements.
 * @param {HTMLElement} main
 * @returns {Order}
 */
export function readOrder(main) {
  const list = /** @type {HTMLElement} */ (main.querySelector("[data-order]"));
  const lines = /** @type {HTMLElement[]} */ ([...list.querySelectorAll("[data-s]")]);
  const stations = Object.fromEntries(
    /** @type {HTMLElement[]} */ ([...main.querySelectorAll("tr[data-n]")]).map((row) => [
      row.dataset.n,
      station(main, row),
    ]),
  );
  const blocks = Object.fromEntries(
    /** @type {HTMLElement[]} */ ([...main.querySelectorAll("table[data-b]")]).map((table) => [
      table.dataset.b,
      table.dataset.kind,
    ]),
  );
  const measures = Object.fromEntries(Object.entries(stations).map(([label, { measure }]) => [label, measure]));
  return { plan: plan(lines.map(line), blocks, measures), stations, blocks, list, lines, session: session(main) };
}

/**
 * @param {HTMLElement} line
 * @returns {Line}
 */
function line({ dataset }) {
  return {
    start: Math.round(Number(dataset.s) * MILLISECONDS),
    length: Math.round(Number(dataset.l) * MILLISECONDS),
    kind: dataset.k ?? "",
    block: dataset.b ?? "",
    station: dataset.n ?? null,
    round: dataset.r === undefined ? null : Number(dataset.r),
    side: dataset.side ?? null,
    reps: dataset.reps === undefined ? null : Number(dataset.reps),
  };
}

/** @param {Element | null | undefined} element */
const text = (element) => element?.textContent?.trim() ?? "";

/**
 * A station as the sheet names it. `name`, `cue` and the easier `ways` are the coach's words.
 * @param {HTMLElement} main
 * @param {HTMLElement} row
 * @returns {Station}
 */
function station(main, row) {
  const { n = "", m = "", rep, tempo, begins } = row.dataset;
  const link = /** @type {HTMLAnchorElement} */ (row.querySelector("a"));
  return {
    label: n,
    shown: /^[A-Z]\d/.test(n) ? n : "",
    exercise: new URL(link.href).pathname.split("/").filter(Boolean).at(-1) ?? "",
    name: text(link),
    dose: text(row.querySelector("strong")),
    detail: text(row.querySelector("th > span")),
    cue: text(row.querySelector("em")),
    measure: m,
    rep: rep === undefined ? null : Number(rep),
    tempo: tempo ?? null,
    begins: begins ?? "lowering",
    ways: ways(main, n),
  };
}

/**
 * @param {HTMLElement} main
 * @param {string} label
 */
function ways(main, label) {
  /** @type {string[]} */
  const found = [];
  const heading = main.querySelector(`dt[data-way="${label}"]`);
  for (let next = heading?.nextElementSibling; next?.matches("dd"); next = next.nextElementSibling) {
    found.push(text(next));
  }
  return found;
}

/**
 * @param {HTMLElement} main
 * @returns {PageSession}
 */
function session(main) {
  const { programme = "", version = "", plan: fingerprint = "", ofDay: day = "", level = "", week } = main.dataset;
  const root = new URL(document.body.dataset.root ?? "", location.href).pathname;
  return {
    address: location.pathname.slice(root.length),
    programme,
    version,
    plan: fingerprint,
    day,
    title: text(main.querySelector("h1")),
    level,
    week: Number(week),
  };
}
