// What the scripts hand to each other. Times are in milliseconds where nothing else is said.

/** A line of the page's running order. Rests and changes have no station; what is absent is null. */
export interface Line {
  start: number;
  length: number;
  /** "work", "rest", "side change", "changeover"; and "wait" for what waits at the end of timed rounds. */
  kind: string;
  block: string;
  station: string | null;
  round: number | null;
  side: string | null;
  reps: number | null;
}

/** A line made ready for the clock; see guided/plan.js. */
export interface Segment extends Line {
  index: number;
  line: number | null;
  group: number;
  at: number;
  ends: number | null;
  own: boolean;
  timed: boolean;
}

/** The work of one round of a station: `parts` are indexes of its segments. */
export interface Bout {
  station: string;
  round: number;
  parts: number[];
}

export interface Plan {
  segments: Segment[];
  bouts: Bout[];
  length: number;
  /** By the labels of stations; one that is not there has no other way. */
  rules?: Record<string, Rule>;
}

/** What may be done at a station in place of what is planned; see guided/choices.js. */
export interface Rule {
  lands: boolean;
  ways: Record<string, { timed: boolean; lands: boolean }>;
  instead: { way: string; timed: boolean } | null;
}

/** What is done at a station. `timed`: the clock alone ends it; `out`: it is left out today. */
export interface Chosen {
  way: string;
  timed: boolean;
  out: boolean;
  isInstead: boolean;
}

/** An exercise as guide.json has it; see telling/views/guide.py. `rep` is in seconds. */
export interface Guided {
  name: string;
  measure: string;
  sides: "both" | "each" | "alternating";
  setup: string[];
  cues: string[];
  rep?: number;
  tempo?: string;
  begins?: string;
  /** What "left" means. */
  side?: string;
  /** For lowering and lifting. */
  words?: [string, string];
  loadable?: boolean;
  /** The side that works in the drawing, where that is not the right one. */
  drawn?: "left";
  lands?: boolean;
  jumps?: { exercise: string | null; how: string };
  /** By tempo; "" without one. */
  figures: Record<string, string>;
  /** Address of the figure from the top of the site, where `figures` has none. */
  picture?: string;
  careful?: string[];
}

export interface Guide {
  exercises: Record<string, Guided>;
  /** Words to look up, each with its sentence. */
  terms: Record<string, string>;
}

/** An easier way as the page has it: another exercise, how to do it, or both. */
export interface Way {
  way: string;
  exercise: string | null;
  how: string;
}

/** A station as the sheet names it. `rep` is in seconds. */
export interface Station {
  label: string;
  shown: string;
  exercise: string;
  name: string;
  dose: string;
  detail: string;
  cue: string;
  measure: string;
  rep: number | null;
  tempo: string | null;
  begins: string;
  ways: Way[];
  load: string;
  sides: "both" | "each" | "alternating";
  sideIs: string;
  tempoWords: [string, string] | null;
  setup: string[];
  cues: string[];
  /** What to say of another way, first: how it is done, what to be careful of. */
  how: string;
  careful: string;
  /** Exercise and tempo by which its figure is known, and the side that works in it; null: it has none. */
  figure: { key: string; drawn: "left" | "right" } | null;
  /** The way that is done; "" as planned. */
  way: string;
  out: boolean;
}

/** Which session a page is of. */
export interface PageSession {
  address: string;
  programme: string;
  version: string;
  plan: string;
  day: string;
  title: string;
  level: string;
  week: number;
}

/** What is read from a session page; `list` and `lines` are elements of it. */
export interface Order {
  plan: Plan;
  stations: Record<string, Station>;
  /** Kinds of the blocks by their numbers. */
  blocks: Record<string, string>;
  guide: Guide;
  list: HTMLElement;
  lines: HTMLElement[];
  session: PageSession;
}

export type Pace = "paced" | "own";

/** What the athlete may do, and what is told with it; see guided/state.js. */
export interface Events {
  start: { pace: Pace };
  pause: object;
  resume: object;
  skip: object;
  stop: object;
  back: object;
  done: object;
  pace: { pace: Pace };
  place: Place;
  way: { station: string; way: string };
  round: object;
  jumps: { off: boolean };
}

export type SessionEvent = { [T in keyof Events]: { type: T; at: number } & Events[T] }[keyof Events];

export interface Place {
  index: number;
  into: number;
  kept: number;
}

/** Where a session stands; see guided/state.js. */
export interface State {
  phase: "ready" | "going" | "paused" | "over";
  index: number;
  into: number;
  left: number | null;
  waits: boolean;
  pace: Pace;
  done: number[];
  ways: string[];
  chosen: Record<string, string>;
  noJumps: boolean;
  blockLeft: number | null;
  spent: number[];
  idle: number;
  lead: number;
  stopped: boolean;
}

/** A segment that lies ahead; `to` is null where only a tap ends it. */
export interface Stretch {
  index: number;
  from: number;
  to: number | null;
}

export type CueName = "count" | "go" | "end" | "turn" | "finish" | "lower" | "low" | "lift" | "high" | "rep";

export interface Cue {
  at: number;
  cue: CueName;
}

/** What the screen says, each in its place. */
export interface ScreenWords {
  mark: string;
  round: string;
  what: string;
  dose: string;
  side: string;
  means: string;
  load: string;
  detail: string;
  cue: string;
  count: string;
  digits: string;
  next: string;
  toGo: string;
  say: string;
}

export interface Settings {
  sound: boolean;
  voice: boolean;
  vibration: boolean;
  pace: Pace;
}

/** A finished station of a record. */
export interface LoggedStation {
  label: string;
  exercise: string;
  name: string;
  round: number;
  dose: string;
  reps: number | null;
  way: string;
}

/** A stop that the coach has to hear of: `station` is a label, `where` says in words where it hurts. */
export interface LogReport {
  station: string;
  where: string;
  why: "hurts" | "too hard";
  note: string;
  time: number | null;
}

/**
 * One session of the log; see log/record.js. `planned` and `seconds` are in seconds, `utc` in minutes (null in records
 * of the first form).
 */
export interface LogRecord extends PageSession {
  v: number;
  id: string;
  planned: number;
  started: number;
  ended: number | null;
  seconds: number;
  effort: number | null;
  note: string;
  utc: number | null;
  stations: LoggedStation[];
  reports: LogReport[];
}

/** A session under way as it is kept; `seen` is the last time that its clock showed. */
export interface Running {
  address: string;
  plan: string;
  record: LogRecord;
  events: SessionEvent[];
  seen: number;
}

/** Seven days of the log; see log/weeks.js. */
export interface Week {
  monday: number;
  loads: number[];
  unknowns: number[];
  total: number;
  sessions: number;
  unknown: number;
  over: boolean;
  coming: number;
}

/** What the page of the log offers to its parts. */
export interface LogPage {
  home: string;
  club: string;
  say(words: string): void;
  draw(): void;
  toSaid(): void;
  closed(id: string): void;
  change(record: LogRecord, changes: { effort: number | null; note: string }): void;
  remove(record: LogRecord): void;
}

/**
 * A phase as home and programme page have it; see telling/views/today.py. `on` has weekdays from Monday, 0: a list for
 * each time in the week. `takes` has by level, for each week, minutes and those without the timer at most; 0 for none.
 */
export interface PlannedPhase {
  number: number;
  phase: string;
  starts: string;
  weeks: number;
  address: string;
  levels: string[];
  days: PlannedDay[];
}

/** `take` has for each entry of `on` the weekday to take of it and why, where only one will do. */
export interface PlannedDay {
  id: string;
  title: string;
  on: number[][];
  take?: ([number, string] | null)[];
  takes: Record<string, [number, number][]>;
}

export interface PlannedProgramme {
  id: string;
  levels: { id: string; name: string; who: string }[];
  phases: PlannedPhase[];
}

/** A session of a week; `choice` are the weekdays on which it may be done, `day` the address of its day. */
export interface Entry {
  id: string;
  title: string;
  choice: number[];
  take: [number, string] | null;
  minutes: number;
  byHand: number;
  week: number;
  phase: number;
  day: string;
  address: string;
}

/** A session and the day on which it is, so many days from now. */
export interface OnDay extends Entry {
  on: number;
  off: number;
}

/** Where a day lies: before a phase, in it, after it and before another, or after the last. */
export interface Standing {
  index: number;
  week: number;
  state: "before" | "on" | "between" | "over";
}

/** What is on: titles of what is done today, what is still to do today, and what is next. */
export interface Agenda extends Standing {
  done: string[];
  today: Entry[];
  next: OnDay | null;
}
