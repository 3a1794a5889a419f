// How hard a session felt, from 0 to 10, with the words of the scale, as the printed sheet has them too.

import { EFFORT as WORDS } from "../shared.js";

/**
 * [number, words] of every effort; words are "" where the scale has none.
 * @type {[number, string][]}
 */
export const EFFORT = WORDS.map((word, number) => [number, word]);

/**
 * The words of an effort, or "" where the scale has none.
 * @param {number | null} effort
 * @returns {string}
 */
export function words(effort) {
  return WORDS[effort ?? -1] ?? "";
}

/**
 * Whether it is on the scale: a whole number from 0 to 10.
 * @param {any} effort
 * @returns {boolean}
 */
export function onScale(effort) {
  return Number.isInteger(effort) && effort >= 0 && effort < WORDS.length;
}
