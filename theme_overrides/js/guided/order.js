// Reads the session page: the running order, its stations, and what they are called.

import { madeStation, ruleOf } from "./choices.js";
import { plan } from "./plan.js";

/** @import {Guide, Line, Order, PageSession, Station, Way} from "../types.js" */

const MILLISECONDS = 1_000;
/** @type {Guide} */
const NO_GUIDE = { exercises: {}, terms: {} };

/**
 * {plan, stations, blocks, lines, session} of a session page; `lines` are the list's own elements. guide: what guide.json
 * says of its exercises, where that has come.
 * @param {HTMLElement} main
 * @param {Guide} [guide]
 * @returns {Order}
 */
export function readOrder(main, guide = NO_GUIDE) {
  const list = /** @type {HTMLElement} */ (main.querySelector("[data-order]"));
  const lines = /** @type {HTMLElement[]} */ ([...list.querySelectorAll("[data-s]")]);
  const stations = Object.fromEntries(
    /** @type {HTMLElement[]} */ ([...main.querySelectorAll("tr[data-n]")]).map((row) => [
      row.dataset.n,
      guided(station(main, row), guide),
    ]),
  );
  const blocks = Object.fromEntries(
    /** @type {HTMLElement[]} */ ([...main.querySelectorAll("table[data-b]")]).map((table) => [
      table.dataset.b,
      table.dataset.kind,
    ]),
  );
  const measures = Object.fromEntries(Object.entries(stations).map(([label, { measure }]) => [label, measure]));
  const rules = Object.fromEntries(
    Object.entries(stations).flatMap(([label, one]) => {
      const rule = ruleOf(one, guide);
      return rule ? [[label, rule]] : [];
    }),
  );
  const made = { ...plan(lines.map(line), blocks, measures), rules };
  return { plan: made, stations, blocks, guide, list, lines, session: session(main) };
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
  const [load, detail] = details(row.querySelector("th > span"));
  return {
    label: n,
    shown: /^[A-Z]\d/.test(n) ? n : "",
    exercise: idOf(link),
    name: text(link),
    dose: text(row.querySelector("strong")),
    load,
    detail,
    cue: text(row.querySelector("em")),
    measure: m,
    rep: rep === undefined ? null : Number(rep),
    tempo: tempo ?? null,
    begins: begins ?? "lowering",
    ways: ways(main, n),
    sides: "both",
    sideIs: "",
    tempoWords: null,
    setup: [],
    cues: [text(row.querySelector("em"))],
    how: "",
    careful: "",
    figure: null,
    way: "",
    out: false,
  };
}

/**
 * The id of the exercise that a link leads to.
 * @param {HTMLAnchorElement} link
 */
const idOf = (link) => new URL(link.href).pathname.split("/").filter(Boolean).at(-1) ?? "";

/**
 * Of what stands beside a dose, the load and the rest. The digits of the tempo are for paper.
 * @param {Element | null} place
 */
function details(place) {
  const parts = text(place).split("; ");
  const load = parts.filter((part) => LOAD.test(part));
  const rest = parts.filter((part) => !LOAD.test(part) && !TEMPO.test(part));
  return [load.join("; "), rest.join("; ")];
}

const LOAD = /^[\d.]+ kg\b/;
const TEMPO = /^tempo\b/;

/**
 * @param {Station} planned
 * @param {Guide} guide
 * @returns {Station}
 */
function guided(planned, guide) {
  const more = guide.exercises[planned.exercise];
  if (!more) return planned;
  const { name } = planned;
  return { ...planned, ...madeStation(planned.exercise, more, planned.tempo ?? ""), name };
}

/**
 * @param {HTMLElement} main
 * @param {string} label
 */
function ways(main, label) {
  /** @type {Way[]} */
  const found = [];
  const heading = main.querySelector(`dt[data-way="${label}"]`);
  for (let next = heading?.nextElementSibling; next?.matches("dd"); next = next.nextElementSibling) {
    const link = /** @type {HTMLAnchorElement | null} */ (next.querySelector("a"));
    const how = link ? text(next.querySelector(".note")) : text(next);
    found.push({ way: text(next), exercise: link && idOf(link), how });
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
