// The one door to what the browser keeps for this site. Private windows and blocked cookies may refuse it
// (SecurityError) or not have it (null), and it may be full; nothing here throws, and the page goes on without memory.

/**
 * Path of the site's root on this host. It is in every key, so that two clubs on one host do not meet.
 * @returns {string}
 */
export function home() {
  const marked = /** @type {HTMLElement} */ (document.querySelector("[data-root]"));
  return new URL(marked.dataset.root ?? "", location.href).pathname;
}

/** What the device keeps, and what this tab keeps over a reload or a crash. Each is null where it is refused. */
export const device = () => opened("localStorage");
export const tab = () => opened("sessionStorage");

/**
 * @param {"localStorage" | "sessionStorage"} name
 * @returns {Storage | null}
 */
function opened(name) {
  try {
    return globalThis[name] ?? null;
  } catch {
    return null;
  }
}

/**
 * The text of a key; null where there is none or it is refused.
 * @param {Storage | null} store
 * @param {string} key
 * @returns {string | null}
 */
export function get(store, key) {
  try {
    return store?.getItem(key) ?? null;
  } catch {
    return null;
  }
}

/**
 * "" when it is written, else "full" or "refused". What was there before stays if it is not written.
 * @param {Storage | null} store
 * @param {string} key
 * @param {string} text
 * @returns {"" | "full" | "refused"}
 */
export function put(store, key, text) {
  if (!store) return "refused";
  try {
    store.setItem(key, text);
    return "";
  } catch (error) {
    // The second name is an older browser's.
    return /quota/i.test(/** @type {Error} */ (error).name) ? "full" : "refused";
  }
}

/**
 * False where the store refuses to forget.
 * @param {Storage | null} store
 * @param {string} key
 * @returns {boolean}
 */
export function drop(store, key) {
  try {
    store?.removeItem(key);
    return true;
  } catch {
    return false;
  }
}

/**
 * What the device keeps under a key, or null.
 * @param {string} key
 */
export const read = (key) => get(device(), key);

/**
 * Keeps a text on the device; whether it was kept.
 * @param {string} key
 * @param {string} text
 */
export const write = (key, text) => put(device(), key, text) === "";

/**
 * Asks the browser not to clear by itself what is kept here. Some ask the person in turn, so it is for when something
 * worth it is there; what was granted, or refused, is not asked again.
 */
export async function askToStay() {
  try {
    const { storage } = navigator;
    if (!(await storage?.persisted?.())) await storage?.persist?.();
  } catch {
    // It goes on being kept as long as the browser likes.
  }
}

/**
 * A kept value that was written as JSON, or null when there is none or it cannot be read.
 * @param {string} key
 * @param {Storage | null} [store]
 * @returns {any}
 */
export function readValue(key, store = device()) {
  try {
    return JSON.parse(get(store, key) ?? "null");
  } catch {
    return null;
  }
}

/** Weeks behind the calendar that are believed of what a device keeps. */
const MOST_BEHIND = 520;

/**
 * Weeks behind the calendar, from the text that a device keeps; 0 for anything else.
 * @param {string | null} text
 */
export function weeksBehind(text) {
  const weeks = /^\d{1,3}$/.test(text ?? "") ? Number(text) : 0;
  return weeks <= MOST_BEHIND ? weeks : 0;
}

/**
 * By how many weeks an athlete stands behind the calendar in the programme that an element is of.
 * @param {HTMLElement} element
 */
export function behindIn(element) {
  const programme = /** @type {HTMLElement | null} */ (element.closest("[data-programme]"))?.dataset.programme;
  return programme ? weeksBehind(read(`behind ${home()}${programme}`)) : 0;
}
