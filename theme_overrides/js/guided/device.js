// Thin access to what a device may or may not have. Each does nothing where it is missing or refused.

/** Before the page is touched a browser refuses to speak and to shake, and complains of it. */
const touched = () => navigator.userActivation?.hasBeenActive !== false;

/**
 * What a device refuses is left out; the session goes on without.
 * @param {() => void} go
 */
function tried(go) {
  try {
    go();
  } catch {
    // Its settings forbid it, or another program has it.
  }
}

/** Says a text in the language of the club, which most of what is said is in: names and cues. */
export const voice = {
  get there() {
    return Boolean(window.speechSynthesis && window.SpeechSynthesisUtterance);
  },
  /** @param {string} text */
  say(text) {
    if (!this.there || !touched()) return;
    this.hush();
    tried(() => {
      const said = new SpeechSynthesisUtterance(text);
      const { lang, dataset } = document.documentElement;
      said.lang = dataset.language ?? lang;
      speechSynthesis.speak(said);
    });
  },
  /** Some devices speak only after they have spoken within the handler of a tap. */
  wake() {
    if (this.there) tried(() => speechSynthesis.speak(new SpeechSynthesisUtterance("")));
  },
  hush() {
    if (this.there) tried(() => speechSynthesis.cancel());
  },
};

/** Shakes the device: `pattern` is milliseconds on, off, on … */
export const vibration = {
  get there() {
    return "vibrate" in navigator && matchMedia("(pointer: coarse)").matches;
  },
  /** @param {number[]} pattern */
  shake(pattern) {
    tried(() => void (touched() && navigator.vibrate?.(pattern)));
  },
};

/**
 * Keeps the screen on while it is wanted; the system takes the lock back whenever the page is hidden. Calls `missed`
 * where the device has no such lock, or refuses it.
 * @param {() => void} missed
 */
export function keepAwake(missed) {
  let wanted = true;
  /** @type {WakeLockSentinel | null | undefined} */
  let lock = null;
  const take = async () => {
    if (!wanted || document.visibilityState !== "visible") return;
    try {
      if (!navigator.wakeLock) missed();
      const taken = await navigator.wakeLock?.request("screen");
      // The one before was taken back, or came late.
      await (wanted ? lock : taken)?.release();
      if (wanted) lock = taken;
    } catch {
      // A low battery may refuse it, and a page that is just being hidden; the clock goes on all the same.
      if (wanted && document.visibilityState === "visible") missed();
    }
  };
  document.addEventListener("visibilitychange", take);
  take();
  return () => {
    wanted = false;
    document.removeEventListener("visibilitychange", take);
    lock?.release().catch(() => {});
    lock = null;
  };
}
