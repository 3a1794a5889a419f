// Loaded before anything else of a page.
(() => {
  const note = (text) => {
    try {
      sessionStorage.setItem("complaints", `${sessionStorage.getItem("complaints") ?? ""}${text}\n`);
    } catch {
      // An empty page keeps nothing.
    }
  };
  // A test sets the date of the device: milliseconds by which the clock is ahead of the machine's.
  let ahead = 0;
  try {
    ahead = Number(sessionStorage.getItem("ahead"));
  } catch {
    // An empty page keeps nothing.
  }
  if (ahead) {
    const Own = Date;
    window.Date = class extends Own {
      constructor(...given) {
        super(...(given.length ? given : [Own.now() + ahead]));
      }
      static now() {
        return Own.now() + ahead;
      }
    };
  }
  addEventListener("error", ({ message, target }) => note(message ? `error: ${message}` : `not loaded: ${target?.src ?? target?.href}`), true);
  addEventListener("unhandledrejection", ({ reason }) => note(`refused: ${reason}`));
  document.addEventListener("securitypolicyviolation", (event) => note(`policy: ${event.violatedDirective} ${event.blockedURI}`));
  for (const kind of ["error", "warn"]) {
    const own = console[kind];
    console[kind] = (...all) => {
      note(`console ${kind}: ${all.join(" ")}`);
      own.apply(console, all);
    };
  }
  if (!window.AudioContext) return;
  window.heard = [];
  const { start, stop } = OscillatorNode.prototype;
  OscillatorNode.prototype.start = function (at) {
    window.audio = this.context;
    heard.push({ node: this, at, time: this.context.currentTime, now: performance.now() });
    return start.call(this, at);
  };
  OscillatorNode.prototype.stop = function (at) {
    const own = heard.find(({ node }) => node === this);
    if (own) own.end = at;
    return stop.call(this, at);
  };
  // A batch of sounds is taken off by the gain that they go through.
  const { connect, disconnect } = AudioNode.prototype;
  AudioNode.prototype.connect = function (to, ...more) {
    (this.leads ??= []).push(to);
    return connect.call(this, to, ...more);
  };
  AudioNode.prototype.disconnect = function (...all) {
    this.off = true;
    return disconnect.apply(this, all);
  };
  window.isOff = (node) => Boolean(node.off) || (node.leads ?? []).some((one) => window.isOff(one));
})();
