// What is done at a station: as planned, an easier way, or what is there instead of jumps. Pure.

/** @import {Chosen, Guide, Guided, Order, Rule, State, Station, Way} from "../types.js" */

/** What stands before what is done instead of jumps, on the screen and in the log. */
const INSTEAD = "no jumps: ";

/**
 * What holds for a station, by what was chosen there last and whether jumps are left out.
 * @param {Rule | undefined} rule
 * @param {string} way
 * @param {boolean} noJumps
 * @returns {Chosen}
 */
export function chosen(rule, way, noJumps) {
  const own = rule && Object.hasOwn(rule.ways, way) ? rule.ways[way] : { timed: false, lands: rule?.lands ?? false };
  if (!rule || !noJumps || !own.lands) return { way, timed: own.timed, out: false, isInstead: false };
  const { instead } = rule;
  return { way: instead?.way ?? "", timed: instead?.timed ?? false, out: !instead, isInstead: true };
}

/**
 * The rule of a station; undefined where it has no other way.
 * @param {Station} station
 * @param {Guide} guide
 * @returns {Rule | undefined}
 */
export function ruleOf(station, guide) {
  const planned = guide.exercises[station.exercise];
  const lands = planned?.lands ?? false;
  if (!station.ways.length && !lands) return undefined;
  const kind = (/** @type {string | null} */ exercise) => {
    const other = exercise === null ? undefined : guide.exercises[exercise];
    const timed = station.measure === "reps" && other !== undefined && other.measure !== "reps";
    return { timed, lands: exercise === null ? lands : (other?.lands ?? false) };
  };
  const ways = Object.fromEntries(station.ways.map((one) => [one.way, kind(one.exercise)]));
  const instead = planned?.jumps ? insteadOf(planned.jumps, guide) : null;
  return { lands, ways, instead: instead && { way: instead.way, timed: kind(instead.exercise).timed } };
}

/**
 * @param {{ exercise: string | null, how: string }} jumps
 * @param {Guide} guide
 * @returns {Way}
 */
function insteadOf({ exercise, how }, guide) {
  const name = exercise === null ? "" : (guide.exercises[exercise]?.name ?? exercise);
  return { way: INSTEAD + [name, how].filter(Boolean).join(", "), exercise, how };
}

/**
 * All stations as they are done now, by their labels.
 * @param {Order} order
 * @param {Pick<State, "chosen" | "noJumps">} state
 * @returns {Record<string, Station>}
 */
export function stationsNow(order, { chosen: ways, noJumps }) {
  const { plan, stations } = order;
  if (!noJumps && !Object.values(ways).some(Boolean)) return stations;
  return Object.fromEntries(
    Object.entries(stations).map(([label, station]) => {
      const now = chosen(plan.rules?.[label], ways[label] ?? "", noJumps);
      return [label, now.out ? { ...station, out: true } : inWay(station, now, order)];
    }),
  );
}

/**
 * @param {Station} station
 * @param {Chosen} now
 * @param {Order} order
 * @returns {Station}
 */
function inWay(station, now, { guide }) {
  if (!now.way) return station;
  const jumps = guide.exercises[station.exercise]?.jumps;
  const option = now.isInstead && jumps ? insteadOf(jumps, guide) : station.ways.find((one) => one.way === now.way);
  if (!option) return { ...station, way: now.way };
  const other = option.exercise === null ? undefined : guide.exercises[option.exercise];
  if (!other || option.exercise === null) {
    // The same exercise done in another way; a drawing of the jump would contradict what is said instead of it.
    const figure = now.isInstead ? null : station.figure;
    return { ...station, way: now.way, how: option.how, figure };
  }
  return exchanged(station, now, option, other);
}

/**
 * Another exercise at the station's place: of the same measure the same amount in its own tempo, of another measure the
 * planned seconds of work.
 * @param {Station} station
 * @param {Chosen} now
 * @param {Way} option
 * @param {Guided} other
 * @returns {Station}
 */
function exchanged(station, now, option, other) {
  const same = station.measure === other.measure;
  const exercise = option.exercise ?? "";
  const careful = other.careful?.[0] ?? "";
  return {
    ...station,
    ...madeStation(exercise, other, other.tempo ?? ""),
    way: now.way,
    how: option.how,
    careful,
    dose: same ? sameDose(station, other) : "",
    detail: "",
    load: other.loadable ? station.load : "",
    measure: same ? station.measure : other.measure === "reps" ? "time" : other.measure,
    rep: other.rep ?? null,
    tempo: other.tempo ?? null,
    begins: other.begins ?? "lowering",
  };
}

/**
 * The planned amount in the words of the other exercise: without "each side" where it has none.
 * @param {Station} station
 * @param {Guided} other
 */
function sameDose({ dose, sides }, { sides: others }) {
  const bare = dose.replace(/ each side$/, "");
  if (others === "both") return sides === "each" ? `${bare}, twice` : bare;
  return sides === "both" ? `${bare}, left and right` : dose;
}

/**
 * What guide.json says of an exercise, as a station has it.
 * @param {string} exercise
 * @param {Guided} guided
 * @param {string} tempo
 */
export function madeStation(exercise, guided, tempo) {
  const has = tempo in guided.figures || guided.picture;
  /** @type {"left" | "right"} */
  const drawn = guided.drawn ?? "right";
  return {
    exercise,
    name: guided.name,
    sides: guided.sides,
    sideIs: guided.side ?? "",
    tempoWords: guided.words ?? null,
    setup: guided.setup,
    cues: guided.cues,
    cue: guided.cues[0],
    figure: has ? { key: figureKey(exercise, tempo in guided.figures ? tempo : ""), drawn } : null,
  };
}

/**
 * @param {string} exercise
 * @param {string} tempo
 */
export const figureKey = (exercise, tempo) => `${exercise} ${tempo}`;

/**
 * What is different without jumps: a line for each station that lands, in their order.
 * @param {Order} order
 * @returns {string[]}
 */
export function withoutJumps(order) {
  const now = stationsNow(order, { chosen: {}, noJumps: true });
  const lines = Object.entries(order.stations).flatMap(([label, station]) => {
    if (now[label].out) return [`${station.name}: left out`];
    if (!now[label].way) return [];
    return [`${station.name}: ${now[label].way.slice(INSTEAD.length)}`];
  });
  return [...new Set(lines)];
}
