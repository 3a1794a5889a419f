// One tab at a time leads a session.

import { device, drop, put } from "../store.js";

/** @typedef {{ got(release: () => void): void, busy(): void, lost(): void }} Holding */

/** How long a tab that holds has to answer, in milliseconds. */
const ANSWER = 300;

/**
 * Holds a lock by name while it is wanted, so that no other tab runs the same session and no update comes in between.
 * Calls `got` with a function that lets go, or `busy` where another tab has it; `lost` when another takes it over.
 * @param {string} name
 * @param {Holding & { steal?: boolean }} holding
 */
export async function holdLock(name, { steal = false, got, busy, lost }) {
  if (!navigator.locks) {
    await holdByWord(`lock ${name}`, { steal, got, busy, lost });
    return;
  }
  let mine = false;
  /** @type {() => void} */
  let release = () => {};
  /** @type {Promise<void>} */
  const held = new Promise((resolve) => (release = resolve));
  try {
    await navigator.locks.request(name, steal ? { steal } : { ifAvailable: true }, (lock) => {
      if (!lock) {
        busy();
        return undefined;
      }
      mine = true;
      got(release);
      return held;
    });
  } catch {
    if (mine) lost();
    else got(() => {});
  }
}

/**
 * The same where the browser has no locks, as on a host without https: tabs hear of each other by what they write into
 * the store. A tab that the system has frozen does not answer; it hears that it has lost when it wakes.
 * @param {string} key
 * @param {Holding & { steal: boolean }} holding
 */
async function holdByWord(key, { steal, got, busy, lost }) {
  const me = String(Math.random());
  /**
   * @param {string} word
   * @param {string} whom
   */
  const tell = (word, whom) => {
    put(device(), key, `${word} ${whom}`);
    drop(device(), key);
  };
  if (!steal && (await isAnswered(key, me, tell))) {
    busy();
    return;
  }
  if (steal) tell("take", me);
  const end = hear(key, (word, whom) => {
    if (word === "ask") tell("held", whom);
    if (word !== "take") return;
    end();
    lost();
  });
  got(end);
}

/**
 * @param {string} key
 * @param {string} me
 * @param {(word: string, whom: string) => void} tell
 * @returns {Promise<boolean>}
 */
function isAnswered(key, me, tell) {
  return new Promise((resolve) => {
    /** @param {boolean} value */
    const answer = (value) => {
      end();
      resolve(value);
    };
    const end = hear(key, (word, whom) => word === "held" && whom === me && answer(true));
    setTimeout(() => answer(false), ANSWER);
    tell("ask", me);
  });
}

/**
 * Calls `take` with what other tabs tell; gives what ends that.
 * @param {string} key
 * @param {(word: string, whom: string) => void} take
 */
function hear(key, take) {
  /** @param {StorageEvent} event */
  const listener = (event) =>
    event.key === key && event.newValue && take(.../** @type {[string, string]} */ (event.newValue.split(" ", 2)));
  addEventListener("storage", listener);
  return () => removeEventListener("storage", listener);
}
