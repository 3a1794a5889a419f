// The guided session: wakes the session page's running order and leads through it by the clock.
//
// Everything that is loaded is imported or fetched from here, before a session begins: a new build of the site may take
// the files away while it runs. Less is needed of the rest: figures of easier ways, and a file of a log that is not kept.

import { keep, newRecord } from "../log/records.js";
import { home, read, write } from "../store.js";
import { voice } from "./device.js";
import { withoutJumps } from "./choices.js";
import { fetchGuide } from "./guide.js";
import { readOrder } from "./order.js";
import { forgetRunning, kept, lockName, taken } from "./running.js";
import { holdLock } from "./locks.js";
import { Session } from "./session.js";
import { clock } from "./clock.js";
import { Player } from "./sound.js";
import { settings } from "./settings.js";

/** @import {Order, Running} from "../types.js" */

/** After this a session that was left is over; what was finished is in the log. */
const FORGOTTEN_AFTER = 12 * 60 * 60 * 1000;

/** @param {HTMLElement} main */
export async function wake(main) {
  const [guide] = await Promise.all([fetchGuide(), addStyles(main.dataset.guide ?? "")]);
  const order = readOrder(main, guide);
  const site = home();
  const start = /** @type {HTMLElement} */ (main.querySelector("[data-start]"));
  const jumps = offerNoJumps(main, order);
  start.addEventListener("click", () => enter({ steal: false, player: woken(site), from: () => begun(site, order) }));
  start.hidden = false;
  const learned = tellFirst(start, site);
  const left = taken(site, order.session);
  if (left && Date.now() - left.seen > FORGOTTEN_AFTER) closeLeft(site, left);
  else if (left) enter({ steal: false, player: new Player(), from: () => taken(site, order.session) ?? left });
  else if (kept(site)?.address === order.session.address && kept(site).record) closeChanged(site, start);

  /** @param {{ steal: boolean, player: Player, from: () => Running }} how */
  function enter({ steal, player, from }) {
    /** @type {Session} */
    let session;
    holdLock(lockName(site), {
      steal,
      got(release) {
        session = new Session({ main, order, site, kept: from(), player, release });
        session.leavesOutJumps = jumps();
        session.open();
        start.hidden = true;
        learned();
        session.closed = () => (start.hidden = false);
      },
      busy() {
        player.close();
        const here = () => enter({ steal: true, player: woken(site), from });
        ask(start, "A session is under way in another tab or window.", here);
      },
      lost() {
        session.handOver();
        const again = () => taken(site, order.session) ?? begun(site, order);
        const here = () => enter({ steal: true, player: woken(site), from: again });
        ask(start, "The session goes on in another tab or window.", here).focus();
      },
    });
  }
}

/**
 * Sound and voice, woken within the handler of a tap: stricter browsers hear of it nowhere else.
 * @param {string} site
 */
function woken(site) {
  const player = new Player();
  const wishes = settings(site);
  if (wishes.sound) player.awaken();
  if (wishes.voice) voice.wake();
  return player;
}

/**
 * Until the first session on this device has begun it is said what mutes a phone. Gives what to call when it has.
 * @param {HTMLElement} start
 * @param {string} site
 */
function tellFirst(start, site) {
  const key = `told sound ${site}`;
  if (read(key) || !matchMedia("(pointer: coarse)").matches) return () => {};
  const words = document.createElement("p");
  words.className = "note quiet";
  words.textContent = "To hear when to begin, turn the volume up and the silent switch of the phone off.";
  // At the end, where it has room of its own: nothing moves when it comes, and it hides nothing for good.
  start.closest("main")?.append(words);
  return () => {
    write(key, "1");
    words.remove();
  };
}

/**
 * Where something lands, it may be left out today. Gives what says whether it is.
 * @param {HTMLElement} main
 * @param {Order} order
 */
function offerNoJumps(main, order) {
  const box = /** @type {HTMLInputElement | null} */ (main.querySelector("[data-no-jumps]"));
  const changes = withoutJumps(order);
  if (!box || !changes.length) return () => false;
  const told = document.createElement("div");
  told.className = "changes";
  told.setAttribute("role", "status");
  box.closest("label")?.after(told);
  box.addEventListener("change", () => {
    told.replaceChildren();
    if (!box.checked) return;
    const list = document.createElement("ul");
    for (const change of changes) {
      const line = document.createElement("li");
      line.dir = "auto";
      line.textContent = change;
      list.append(line);
    }
    told.append("What is different today:", list, "Tell your coach.");
  });
  /** @type {HTMLElement} */ (box.closest("label")).hidden = false;
  return () => box.checked;
}

/**
 * A session that begins now, in the shape in which one under way is kept.
 * @param {string} site
 * @param {Order} order
 * @returns {Running}
 */
function begun(site, { session, plan }) {
  const left = kept(site);
  if (left?.record) closeLeft(site, left);
  const now = clock().now();
  const record = newRecord(site, { ...session, planned: plan.length / 1000 }, now);
  return { ...session, record, events: [], seen: now };
}

/**
 * A session that nobody comes back to; what was finished is in the log.
 * @param {string} site
 * @param {Running} left
 */
function closeLeft(site, { record, seen }) {
  if (record.ended === null) keep(site, { ...record, ended: seen });
  forgetRunning(site);
}

/**
 * The page has another running order than the one that was begun, or what was kept cannot be read.
 * @param {string} site
 * @param {HTMLElement} start
 */
function closeChanged(site, start) {
  holdLock(lockName(site), {
    got(release) {
      closeLeft(site, kept(site));
      release();
      tell(
        start,
        "The session that you began cannot go on, since this page has changed. What you finished is in your log.",
      );
    },
    busy() {},
    lost() {},
  });
}

/**
 * @param {HTMLElement} start
 * @param {string} text
 */
function tell(start, text) {
  document.querySelector(".elsewhere")?.remove();
  const box = document.createElement("div");
  box.className = "elsewhere";
  box.setAttribute("role", "status");
  const words = document.createElement("p");
  words.textContent = text;
  box.append(words);
  start.parentElement?.after(box);
  return box;
}

/**
 * @param {HTMLElement} start
 * @param {string} text
 * @param {() => void} action
 */
function ask(start, text, action) {
  const box = tell(start, text);
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Go on here instead";
  button.addEventListener("click", () => {
    box.remove();
    action();
  });
  box.append(button);
  return button;
}

/**
 * Done when the styles are there, or will not come: the session works without.
 * @param {string} address
 */
function addStyles(address) {
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = address;
  return new Promise((done) => {
    link.addEventListener("load", () => done(null));
    link.addEventListener("error", () => done(null));
    document.head.append(link);
  });
}
