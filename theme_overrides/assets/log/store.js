// The doors to the browser's stores. A browser may refuse them (SecurityError), not have them (null) or be full.

/** What the device keeps, and what this tab keeps over a reload or a crash. Each is null where it is refused. */
export const device = () => opened("localStorage");
export const tab = () => opened("sessionStorage");

function opened(name) {
  try {
    return globalThis[name] ?? null;
  } catch {
    return null;
  }
}

/** Every key that begins with `prefix`, with its text. */
export function entries(store, prefix) {
  try {
    const keys = Array.from({ length: store?.length ?? 0 }, (_, index) => store.key(index));
    return keys.filter((key) => key?.startsWith(prefix)).map((key) => [key, store.getItem(key) ?? ""]);
  } catch {
    return [];
  }
}

/** "" when it is written, else "full" or "refused". What was there before stays if it is not written. */
export function put(store, key, text) {
  if (!store) return "refused";
  try {
    store.setItem(key, text);
    return "";
  } catch (error) {
    // The second name is an older browser's.
    return /quota/i.test(error.name) ? "full" : "refused";
  }
}

/** The text of a key; null where there is none or it is refused. */
export function get(store, key) {
  try {
    return store?.getItem(key) ?? null;
  } catch {
    return null;
  }
}

/** False where the store refuses to forget. */
export function drop(store, key) {
  try {
    store?.removeItem(key);
    return true;
  } catch {
    return false;
  }
}

/** Whether the device's store is there and may be read; whether it is full shows only when something is written. */
export function usable() {
  try {
    device().getItem("");
    return true;
  } catch {
    return false;
  }
}
