// Fetches what the sheet does not say: words, figures and terms of the exercises of this level.

/** @import {Guide} from "../types.js" */

/** Milliseconds until a session begins without it. */
const PATIENCE = 20_000;

/**
 * @returns {Promise<Guide | undefined>}
 */
export async function fetchGuide() {
  const given = new AbortController();
  const late = setTimeout(() => given.abort(), PATIENCE);
  try {
    const answer = await fetch("../guide.json", { signal: given.signal });
    if (!answer.ok) return undefined;
    const found = await answer.json();
    return found?.exercises && found.terms ? found : undefined;
  } catch {
    // No network and nothing kept: the sheet alone is enough to lead through the session.
    return undefined;
  } finally {
    clearTimeout(late);
  }
}
