// Wakes "Today" on the home page and on that of a programme. Its pages load it before they are shown, so that nothing
// moves.

import { currentPhase, DAY, localDay, ownDay, today as dayOf, weekOn, weekWords } from "../dates.js";
import { button, make } from "../log/dom.js";
import { records } from "../log/records.js";
import { behindIn, home, read, weeksBehind, write } from "../store.js";
import { agenda, asksIfAway, AWAY, earlier, weekday } from "./agenda.js";
import { behindWords, dayName, orLater, placeWords, stateWords, takes, when } from "./words.js";

/** @import {Agenda, Entry, LogRecord, PlannedProgramme} from "../types.js" */

/**
 * What a device keeps for one programme.
 * @param {PlannedProgramme} programme
 */
function keptFor({ id, levels }) {
  const key = (/** @type {string} */ what) => `${what} ${home()}${id}`;
  const level = levels.find((one) => one.id === read(key("level"))) ?? null;
  const asked = Date.parse(read(key("asked")) ?? "");
  return {
    level,
    behind: weeksBehind(read(key("behind"))),
    asked: Number.isFinite(asked) ? asked : null,
    /** @param {"level" | "behind" | "asked"} what @param {string} text */
    keep: (what, text) => write(key(what), text),
  };
}

/** @param {number} day */
const iso = (day) => new Date(day).toISOString().slice(0, 10);

/**
 * @param {HTMLElement} place
 * @param {LogRecord[]} log
 */
function wake(place, log) {
  /** @type {PlannedProgramme} */
  const programme = JSON.parse(place.dataset.today ?? "");
  const root = place.dataset.root ?? "";
  const own = log.filter((one) => one.programme === programme.id && one.ended !== null && one.stations.length > 0);
  // What another tab or an older page has chosen in the meantime counts.
  const draw = (said = "") => {
    const kept = keptFor(programme);
    const day = dayOf();
    place.replaceChildren(...(kept.level ? known(day, kept, said) : firstTime(day, kept)));
    place.hidden = !programme.phases.length;
  };

  /**
   * @param {number} day
   * @param {ReturnType<typeof keptFor>} kept
   */
  function firstTime(day, { keep }) {
    const choices = programme.levels.map(({ id, name, who }) =>
      make(
        "li",
        {},
        button(
          name,
          () => {
            keep("level", id);
            keep("asked", iso(day));
            draw("Your level is kept on this device.");
            place.querySelector("a")?.focus();
          },
          { dir: "auto" },
        ),
        make("span", who ? { dir: "auto" } : {}, ` ${who || "Ask your coach whether this level is yours."}`),
      ),
    );
    return [
      make("h2", {}, "Which level is yours?"),
      make("ul", { class: "levels" }, choices),
      make("p", { class: "note" }, "Not sure? Take the easier one, and ask your coach."),
    ];
  }

  /**
   * @param {number} day
   * @param {ReturnType<typeof keptFor>} kept
   * @param {string} said
   */
  function known(day, { level, behind, asked, keep }, said) {
    if (!level) return [];
    const { phases } = programme;
    const done = own.map(({ day: id, title, started }) => ({ id, title, day: localDay(started) }));
    const now = agenda({ day, behind, level: level.id, phases, done });
    const days = done.map((one) => one.day);
    const past = days.filter((one) => one <= day);
    const last = past.length ? Math.max(...past) : null;
    const parts = [
      make("h2", {}, "Today"),
      ...(said ? [make("p", { class: "said", role: "status" }, said)] : []),
      ...ahead(days, day),
      ...now.done.map((title) => make("p", { class: "done-today" }, "Done today: ", make("b", { dir: "auto" }, title))),
      ...now.today.map((entry) => start(entry, "Today", day)),
      ...(phases[now.index].levels.includes(level.id)
        ? []
        : [make("p", {}, "Your level is not in this phase. Choose below.")]),
      ...[stateWords(now, phases, behind)].filter(Boolean).map((words) => make("p", {}, words)),
      ...next(now),
      make("p", { class: "place" }, make("bdi", {}, level.name), `, ${placeWords(now, phases, behind)}`),
    ];
    if (asksIfAway(day, last, asked)) parts.push(away(day, last, keep));
    return [...parts, changing(day, level.id, behind, keep)];
  }

  /** @param {Agenda} now */
  function next({ next: entry }) {
    if (!entry) return [];
    return [
      make(
        "p",
        { class: "to" },
        make("a", { href: root + entry.day }, "Next: ", make("bdi", {}, entry.title), `, ${when(entry)}`),
      ),
    ];
  }

  /**
   * @param {Entry} entry
   * @param {string} words
   * @param {number} day
   */
  function start(entry, words, day) {
    return make(
      "p",
      { class: "go" },
      make(
        "a",
        { href: root + entry.address },
        make("strong", {}, `${words}: `, make("bdi", {}, entry.title)),
        " ",
        make("span", {}, takes(entry) + orLater(entry, weekday(day))),
      ),
    );
  }

  /**
   * A session of a day that is still to come: the date was or is wrong.
   * @param {number[]} days
   * @param {number} day
   */
  function ahead(days, day) {
    const latest = Math.max(...days, day);
    if (latest <= day + DAY) return [];
    const words = `Your log has a session on ${dayName(latest, true)}. Is the date of this device right? Today is found by it.`;
    return [make("p", { class: "older" }, words)];
  }

  /**
   * @param {number} day
   * @param {number | null} last
   * @param {(what: "asked", text: string) => unknown} keep
   */
  function away(day, last, keep) {
    const long = last === null ? `${AWAY} days or more` : `${Math.round((day - last) / DAY)} days`;
    const stay = button("Stay in this week", () => {
      keep("asked", iso(day));
      draw("You stay in this week.");
    });
    const back = button("Choose an earlier week", () => {
      const fold = /** @type {HTMLDetailsElement} */ (place.querySelector("details"));
      fold.open = true;
      fold.querySelector("select")?.focus();
    });
    return make(
      "div",
      { class: "away" },
      make(
        "p",
        {},
        `Nothing in your log for ${long}. Were you away? An earlier week is a good way back. Were you ill or injured? Ask before you start.`,
      ),
      make("p", { class: "tools" }, stay, " ", back),
    );
  }

  /**
   * @param {number} day
   * @param {string} level
   * @param {number} behind
   * @param {(what: "level" | "behind" | "asked", text: string) => unknown} keep
   */
  function changing(day, level, behind, keep) {
    const { phases, levels } = programme;
    const weeks = earlier(day, phases);
    const options = weeks
      .filter((one) => one.behind > 0)
      .map((one) =>
        make(
          "option",
          { value: one.behind, selected: one.behind === behind },
          `Phase ${phases[one.index].number}, week ${one.week}: ${behindWords(one.behind)}`,
        ),
      );
    const week = make("select", { name: "behind" }, make("option", { value: 0 }, "The calendar's week"), options);
    if (behind && !weeks.some((one) => one.behind === behind)) {
      week.append(make("option", { value: behind, selected: true }, behindWords(behind)));
    }
    const choice = make(
      "select",
      { name: "level" },
      levels.map(({ id, name }) => make("option", { value: id, selected: id === level, dir: "auto" }, name)),
    );
    week.addEventListener("change", () => {
      keep("behind", week.value);
      keep("asked", iso(day));
      draw(
        week.value === "0"
          ? "You are in the calendar's week."
          : `Kept on this device: ${behindWords(Number(week.value))}.`,
      );
    });
    choice.addEventListener("change", () => {
      keep("level", choice.value);
      draw("Your level is kept on this device.");
    });
    return make(
      "details",
      {},
      make("summary", {}, "New here, or away for a while?"),
      make(
        "p",
        {},
        "Start in an earlier week, or in an earlier phase, and go on from there week by week. Not sure? Take the earlier one, and ask your coach.",
      ),
      make("label", {}, "Week ", week),
      make("label", {}, "Level ", choice),
    );
  }

  draw();
}

/** @param {number} day */
function showPhases(day) {
  /** @type {Map<Node, HTMLElement[]>} */
  const groups = new Map();
  const found = /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-phase]"));
  for (const phase of found) {
    const parent = /** @type {Node} */ (phase.parentNode);
    if (!groups.has(parent)) groups.set(parent, []);
    groups.get(parent)?.push(phase);
  }
  for (const phases of groups.values()) {
    const behind = behindIn(phases[0]);
    const own = ownDay(day, behind);
    const current = currentPhase(
      own,
      phases.map(({ dataset }) => dataset.starts ?? ""),
    );
    phases.forEach((phase, index) => {
      phase.hidden = index !== current;
      const words = weekWords(weekOn(own, phase.dataset.starts ?? ""), Number(phase.dataset.weeks));
      const place = /** @type {HTMLElement} */ (phase.querySelector("[data-week]"));
      if (words) place.textContent = behind ? `${words}, your own` : words;
      else place.prepend("starts: ");
    });
  }
}

/** The programmes with a level come first; where there is one, the others are not asked for. */
function wakeAll() {
  /** @type {NodeListOf<HTMLElement>} */
  const places = document.querySelectorAll("[data-today]");
  const log = records(home());
  const cards = [...places].filter((place) => place.closest("li"));
  const mine = cards.filter((place) => keptFor(JSON.parse(place.dataset.today ?? "")).level);
  for (const place of places) if (!mine.length || !cards.includes(place) || mine.includes(place)) wake(place, log);
  for (const place of [...mine].reverse()) {
    const card = place.closest("li");
    card?.parentElement?.prepend(card);
  }
}

if ("findLast" in Array.prototype) {
  showPhases(dayOf());
  wakeAll();
}
