// Thin doors to what a device may or may not have. Each does nothing where it is missing or refused.

/** Before the page is touched a browser refuses to speak and to shake, and complains of it. */
const touched = () => navigator.userActivation?.hasBeenActive !== false;

/** Says a text in the language of the page. */
export const voice = {
  get there() {
    return "speechSynthesis" in window && "SpeechSynthesisUtterance" in window;
  },
  say(text) {
    if (!this.there || !touched()) return;
    this.hush();
    const said = new SpeechSynthesisUtterance(text);
    said.lang = document.documentElement.lang;
    speechSynthesis.speak(said);
  },
  hush() {
    if (this.there) speechSynthesis.cancel();
  },
};

/** Shakes the device: `pattern` is milliseconds on, off, on … */
export const vibration = {
  get there() {
    return "vibrate" in navigator && matchMedia("(pointer: coarse)").matches;
  },
  shake(pattern) {
    try {
      if (touched()) navigator.vibrate?.(pattern);
    } catch {
      // Refused by the device's settings.
    }
  },
};

/** Keeps the screen on while it is wanted; the system takes the lock back whenever the page is hidden. */
export function keepAwake() {
  let wanted = true;
  let lock = null;
  const take = async () => {
    if (!wanted || document.visibilityState !== "visible") return;
    try {
      const taken = await navigator.wakeLock?.request("screen");
      // The one before was taken back, or came late.
      await (wanted ? lock : taken)?.release();
      if (wanted) lock = taken;
    } catch {
      // A low battery may refuse it; the clock goes on all the same.
    }
  };
  document.addEventListener("visibilitychange", take);
  take();
  return () => {
    wanted = false;
    document.removeEventListener("visibilitychange", take);
    lock?.release().catch(() => {});
  };
}

/**
 * Holds a lock by name while it is wanted, so that no other tab runs the same session and no update comes in between.
 * Calls `got` with a function that lets go, or `busy` where another tab has it; `lost` when another takes it over.
 */
export async function holdLock(name, { steal = false, got, busy, lost }) {
  if (!navigator.locks) {
    got(() => {});
    return;
  }
  let mine = false;
  let release;
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
