// How hard a session felt, from 0 to 10, with the words of the scale: the CR-10 scale as modified by Foster et al.
// (2001), A new approach to monitoring exercise training, J Strength Cond Res 15(1):109-115. 6, 8 and 9 have none.

export const EFFORT = [
  [0, "rest"],
  [1, "very very easy"],
  [2, "easy"],
  [3, "moderate"],
  [4, "somewhat hard"],
  [5, "hard"],
  [6, ""],
  [7, "very hard"],
  [8, ""],
  [9, ""],
  [10, "maximal"],
];

/** The words of an effort, or "" where the scale has none. */
export function words(effort) {
  return EFFORT.find(([number]) => number === effort)?.[1] ?? "";
}

/** Whether it is on the scale: a whole number from 0 to 10. */
export function onScale(effort) {
  return EFFORT.some(([number]) => number === effort);
}
