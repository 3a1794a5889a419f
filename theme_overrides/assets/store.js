// The one door to what the browser keeps for this site. Private windows, blocked cookies and full stores may
// refuse; nothing here throws, and the page goes on without memory.

/** Path of the site's root on this host. It is in every key, so that two clubs on one host do not meet. */
export function home() {
  const marked = document.querySelector("[data-root]");
  return new URL(marked.dataset.root, location.href).pathname;
}

/** What is kept under a key, or null. */
export function read(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/** Keeps a text; whether it was kept. */
export function write(key, text) {
  try {
    localStorage.setItem(key, text);
    return localStorage.getItem(key) === text;
  } catch {
    return false;
  }
}

export function forget(key) {
  try {
    localStorage.removeItem(key);
  } catch {
    // What could not be written needs no forgetting.
  }
}

/** A kept value that was written as JSON, or null when there is none or it cannot be read. */
export function readValue(key) {
  try {
    return JSON.parse(read(key));
  } catch {
    return null;
  }
}
