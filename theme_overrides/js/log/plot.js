// The weeks as ribbons, drawn to one scale: a part for each day's load. And as a table, with all that is known.

import { DAYS } from "../shared.js";
import { drawn, make } from "./dom.js";
import { count, dateWords, dayLoadWords, shortDate, totalWords } from "./words.js";

/** @import {Week} from "../types.js" */

const WIDE = 1000;
/** The part of a session whose load is not known. */
const OPEN = 40;
const HIGH = 16;
/** More of them on one day could not be told apart: they are drawn as one. */
const APART = 20;

/**
 * A list of the weeks, oldest first.
 * @param {Week[]} weeks
 */
export function ribbons(weeks) {
  const scale = WIDE / Math.max(...weeks.map((week) => week.total + openParts(week)), 1);
  return make(
    "ol",
    { class: "weeks" },
    weeks.map((week) =>
      make(
        "li",
        {},
        make("span", {}, shortDate(week.monday), week.over ? "" : make("small", {}, " so far")),
        ribbon(week, scale),
        make("b", {}, make("span", { class: "sr" }, "load "), totalWords(week)),
      ),
    ),
  );
}

// Wide enough to be seen, whatever the scale.
/** @param {Week} week */
const openParts = (week) => week.unknown * OPEN;

/**
 * @param {Week} week
 * @param {number} scale
 */
function ribbon(week, scale) {
  /** @type {Element[]} */
  const parts = [];
  let x = 0;
  /**
   * @param {string} kind
   * @param {number} width
   */
  const part = (kind, width) => {
    if (width > 0) parts.push(drawn("rect", { class: kind, x, y: 0, width, height: HIGH }));
    x += width;
  };
  week.loads.forEach((load, day) => {
    part("p", load * scale);
    const parted = Math.min(week.unknowns[day], APART);
    for (let number = 0; number < parted; number += 1) part("u", (OPEN * scale * week.unknowns[day]) / parted);
  });
  const frame = { viewBox: `0 0 ${WIDE} ${HIGH}`, preserveAspectRatio: "none", "aria-hidden": "true" };
  return drawn("svg", frame, ...parts);
}

const HEADINGS = ["Week of", "Load", "Sessions", ...DAYS];

/**
 * The same weeks, newest first.
 * @param {Week[]} weeks
 */
export function table(weeks) {
  const head = make(
    "tr",
    {},
    HEADINGS.map((heading) => make("th", { scope: "col" }, heading)),
  );
  return make(
    "div",
    { class: "wide", role: "region", "aria-label": "Loads by week and day", tabindex: "0" },
    make("table", { class: "loads" }, make("thead", {}, head), make("tbody", {}, [...weeks].reverse().map(row))),
  );
}

/** @param {Week} week */
function row(week) {
  const load = `${totalWords(week)}${week.over ? "" : " so far"}`;
  const cells = [load, String(week.sessions), ...week.loads.map((_, day) => dayLoadWords(week, day))];
  return make(
    "tr",
    {},
    make("th", { scope: "row" }, dateWords(week.monday)),
    cells.map((cell) => make("td", {}, cell)),
  );
}

/**
 * What the marks of these weeks mean; only those that are there are explained.
 * @param {Week[]} weeks
 * @param {number} later
 */
export function notes(weeks, later) {
  const unknown = weeks.reduce((sum, week) => sum + week.unknown, 0);
  const lines = [];
  if (unknown) {
    lines.push(
      `?: ${count(unknown, "session has", "sessions have")} no effort noted, so no load. You can add it below.`,
    );
  }
  if (weeks.some((week) => !week.over)) {
    lines.push("This week is not over: its load can still grow.");
  }
  if (later) {
    lines.push(
      `${count(later, "session is", "sessions are")} dated after this week and in no week here. Is the clock of the device right?`,
    );
  }
  return lines.map((line) => make("p", { class: "note" }, line));
}
