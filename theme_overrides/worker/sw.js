// Keeps the current version of visited programmes on the device and answers from there, so that they work without
// a network. Lies at the root of the site as sw.js; everything below its folder is in its scope.
//
// One cache holds it all. An entry is a file under its address and digest, so builds share what they have in
// common and a file is never mistaken for that of another build. One more entry is the record:
//   {build, programmes: {id: {starts: [day, ...], kept: [day, ...]}}, files: {address: digest},
//    before: {files, clients} or null, gone: time or 0}
// It says which build is in force. It is written, in one put, only when every file that it names is there: so a build
// arrives whole or not at all, and a download that breaks off leaves the old one as it was.
//
// Whatever goes wrong in here, the network answers as if there were no worker.

import { DAY, currentPhase, today } from "../js/dates.js";

/** @typedef {Record<string, string>} Files digests by address */
/**
 * @typedef {object} Kept the record
 * @property {string} build
 * @property {Record<string, { starts: string[], kept: string[] }>} programmes
 * @property {Files} files
 * @property {{ files: Files, clients: string[] } | null} before
 * @property {number} gone
 */
/** @typedef {{ build: string, programmes: string[] }} Said what the list at the root says */
/** @typedef {{ build: string, files: Files, phases: { starts: string, files: Files }[] }} List of a programme */

const HOME = new URL("./", location.href).href;
const PATH = new URL(HOME).pathname;
const STORE = `offline ${PATH}`;
const RECORD = `${HOME}?record-1`;
const AT_ONCE = 4; // downloads side by side: the pages that somebody reads come first
const PATIENCE = 2000; // ms that a page waits at most, to be one of a build that has just come out
const SILENCE = 30000; // ms without such waiting after it was in vain: the line is bad
const ANSWER = 20000; // ms for one answer of the server

// ---- The record

const store = () => caches.open(STORE);
/** @type {Promise<Kept | null> | undefined} */
let remembered;

/** @returns {Promise<Kept | null>} */
function record() {
  remembered ??= store()
    .then((cache) => cache.match(RECORD))
    .then((found) => found?.json() ?? null)
    .catch(() => {
      remembered = undefined;
      return null;
    });
  return remembered;
}

/** @param {Kept} next */
async function write(next) {
  await (await store()).put(RECORD, new Response(JSON.stringify(next)));
  remembered = Promise.resolve(next);
}

/**
 * @param {string} address
 * @param {string} digest
 */
const entry = (address, digest) => `${HOME}${address}?kept=${digest}`;
/**
 * @param {Files | undefined} files
 * @param {string} address
 */
const digestOf = (files, address) => (files && Object.hasOwn(files, address) ? files[address] : undefined);

/**
 * @param {string} address
 * @param {string} digest
 */
async function file(address, digest) {
  return (await store()).match(entry(address, digest));
}

// ---- Answers

addEventListener("fetch", (event) => {
  const { request } = event;
  // Range requests want a part (206), others than GET change something, and both are none of ours.
  if (request.method !== "GET" || request.headers.has("range") || !request.url.startsWith(HOME)) return;
  const url = new URL(request.url);
  const address = url.pathname.slice(PATH.length).replace(/(^|\/)index\.html$/, "$1");
  const isPage = request.mode === "navigate";
  // A script that asks for the network by a query or by its cache mode gets it.
  if (!isPage && (url.search || request.cache === "no-store" || request.cache === "reload")) return;
  const answer = isPage ? page(event, address, url.search) : part(address);
  const ours = answer.catch(() => undefined).then((found) => found ?? fetch(request));
  event.respondWith(isPage ? ours.catch(absent) : ours);
});

/**
 * A page of the build in force, which a newer one may have become a moment before.
 * @param {FetchEvent} event
 * @param {string} address
 * @param {string} search
 */
async function page(event, address, search) {
  if (!(await record())) return undefined;
  await newest(event);
  const files = (await record())?.files;
  const digest = digestOf(files, address);
  if (digest) return file(address, digest);
  // Hosts do so for a folder without its slash; relative links of the page would lead astray otherwise.
  return digestOf(files, `${address}/`) ? Response.redirect(`${HOME}${address}/${search}`, 302) : undefined;
}

/**
 * There is no network, and the page is not kept: better a way to those that are than the browser's own words.
 * @param {unknown} error
 */
async function absent(error) {
  const files = (await record().catch(() => null))?.files;
  if (!digestOf(files, "")) throw error;
  const style = Object.keys(files ?? {}).find((address) => /^assets\/css\/sheet\.\w+\.css$/.test(address));
  /** @type {Record<string, string>} */
  const own = { HOME: inMarkup(HOME), STYLE: inMarkup(HOME + style) };
  const text = ABSENT.replace(/\b(HOME|STYLE)\b/g, (name) => own[name]);
  const headers = {
    "content-type": "text/html;charset=utf-8",
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
  };
  return new Response(text, { status: 503, headers });
}

/**
 * Folders of a host may have any name.
 * @param {string} address
 */
const inMarkup = (address) => address.replaceAll("&", "&amp;").replaceAll('"', "&quot;").replaceAll("<", "&lt;");

/** As that of the pages, less what this answer has no use for: it runs nothing and loads its style sheet alone. */
const POLICY =
  "default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const ABSENT = `<!doctype html><html lang="en"><meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1,viewport-fit=cover"><title>Not on this device</title>
<link rel="icon" href="data:,"><link rel="stylesheet" href="STYLE"><body class="session"><main id="main"><h1>This page is not on this device</h1>
<p>There is no network just now, or the site does not answer. What you have saved still works.</p>
<p><a href="HOME">Go to the pages on this device</a></p><p><a href="">Try this page once more</a></p></main>`;

/**
 * A style, script or picture. Its name holds its digest, so that the build before serves its pages still open.
 * @param {string} address
 */
async function part(address) {
  const now = await record();
  const digest = digestOf(now?.files, address) ?? digestOf(now?.before?.files, address);
  return digest ? file(address, digest) : undefined;
}

let vain = -Infinity;

/**
 * Looks for a newer build and waits for it a little, but not on a line that was silent lately.
 * @param {FetchEvent} event
 */
async function newest(event) {
  const looked = look();
  event.waitUntil(looked);
  if (Date.now() - vain < SILENCE) return;
  const late = new Promise((resolve) => setTimeout(resolve, PATIENCE, "late"));
  if ((await Promise.race([looked, late])) === "late") vain = Date.now();
}

// ---- Renewing; one job at a time

/** @type {Promise<unknown>} */
let last = Promise.resolve();
/** @type {Promise<unknown> | null} */
let looking = null;

/** @param {() => Promise<unknown>} job */
const inTurn = (job) => (last = last.then(job).catch(() => undefined));
const look = () => (looking ??= inTurn(renew).finally(() => (looking = null)));

async function renew() {
  const now = await record();
  if (!now || (await running())) return;
  const said = await ask("offline.json");
  if (said.off) await retire();
  else if (said.gone) await doubt(now);
  else if (said.build !== now.build) await take(said, Object.keys(now.programmes));
  else if (now.gone) await write({ ...now, gone: 0 });
}

/**
 * Keeps a programme too; of the newest build, so that all that is kept is of one.
 * @param {string} programme
 */
async function keep(programme) {
  const now = await record();
  if (!isKept(now, programme, wanted)) {
    const said = await ask("offline.json");
    if (said.off || said.gone) return;
    await take(said, [...Object.keys(now?.programmes ?? {}), programme]);
  } else if (now?.before) await sweep();
}

/**
 * @param {Said} said
 * @param {string[]} ids
 */
async function take(said, ids) {
  const now = await record();
  /** @type {Record<string, List>} */
  const lists = {};
  for (const id of new Set(ids)) {
    // A programme that the club has taken away is kept no longer.
    if (said.programmes.includes(id)) lists[id] = await ask(`${id}/offline.json`);
  }
  // In the middle of an upload the lists may be of two builds.
  if (Object.values(lists).some((list) => list.build !== said.build)) throw new Error("not one build");
  const next = merged(said.build, lists);
  await download(next.files);
  const isSwitch = now && now.build !== next.build;
  if (isSwitch && (await running())) return;
  await write({ ...next, before: isSwitch ? await leave(/** @type {Kept} */ (now)) : (now?.before ?? null) });
  await sweep();
}

/**
 * @param {string} build
 * @param {Record<string, List>} lists
 * @returns {Kept}
 */
function merged(build, lists) {
  /** @type {Kept} */
  const next = { build, programmes: {}, files: {}, before: null, gone: 0 };
  for (const [id, list] of Object.entries(lists)) {
    const starts = list.phases.map((phase) => phase.starts);
    const kept = wanted(starts);
    next.programmes[id] = { starts, kept };
    const phases = list.phases.filter((phase) => kept.includes(phase.starts));
    Object.assign(next.files, list.files, ...phases.map((phase) => phase.files));
  }
  return next;
}

/**
 * The files of the build that is being left, for the windows that still show it.
 * @param {Kept} now
 */
async function leave(now) {
  const shown = await windows();
  return { files: { ...now.before?.files, ...now.files }, clients: shown };
}

async function windows() {
  const all = await clients.matchAll({ type: "window", includeUncontrolled: true });
  return all.filter((one) => one.url.startsWith(HOME)).map((one) => one.id);
}

/** Throws away what neither the build in force nor a window still needs. */
async function sweep() {
  const shown = await windows();
  const now = /** @type {Kept} */ (await record());
  if (now.before && !now.before.clients.some((id) => shown.includes(id))) await write({ ...now, before: null });
  const { files, before } = /** @type {Kept} */ (await record());
  const needed = new Set([RECORD]);
  for (const list of [files, before?.files ?? {}]) {
    for (const [address, digest] of Object.entries(list)) needed.add(entry(address, digest));
  }
  const cache = await store();
  for (const request of await cache.keys()) if (!needed.has(request.url)) await cache.delete(request);
}

// ---- Phases by their dates, as on the programme's page: the current one and the one after it, so that the turn of a
// phase needs no network either.

/**
 * @param {string[]} starts
 * @param {number} [ahead]
 */
function wanted(starts, ahead = 1) {
  const current = currentPhase(today(), starts);
  return starts.slice(current, current + 1 + ahead);
}

/** @param {string[]} starts */
const current = (starts) => wanted(starts, 0);

/**
 * @param {Kept | null} now
 * @param {string} id
 * @param {(starts: string[]) => string[]} which
 */
function isKept(now, id, which) {
  if (!now || !Object.hasOwn(now.programmes, id)) return false;
  const { starts, kept } = now.programmes[id];
  return which(starts).every((start) => kept.includes(start));
}

// ---- Downloads

/**
 * @param {string} address
 * @param {RequestCache} cache
 */
async function fetched(address, cache) {
  // Safari has AbortSignal.timeout since 16 only.
  const late = new AbortController();
  setTimeout(() => late.abort(), ANSWER);
  return fetch(HOME + address, { cache, redirect: "error", priority: "low", signal: late.signal });
}

/** @param {Response} answer */
const isGood = (answer) => answer.status === 200 && answer.type === "basic" && !answer.redirected;

/**
 * What a list says; `gone` if the server is sure that there is none. Throws on every other answer.
 * @param {string} address
 * @returns {Promise<any>}
 */
async function ask(address) {
  const answer = await fetched(address, "no-store");
  if (answer.status === 404 || answer.status === 410) return { gone: true };
  if (!isGood(answer)) throw new Error(`no list: ${answer.status}`);
  const said = await answer.json();
  if (!said.off && typeof said.build !== "string") throw new Error("not a list");
  return said;
}

let isFull = false;

/** @param {Files} files */
async function download(files) {
  if (isFull) throw new Error("the device has no room");
  const cache = await store();
  const have = new Set((await cache.keys()).map((request) => request.url));
  const missing = Object.entries(files).filter(([address, digest]) => !have.has(entry(address, digest)));
  const work = async () => {
    for (let next = missing.shift(); next; next = missing.shift()) await put(cache, ...next);
  };
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, work));
  } catch (error) {
    missing.length = 0;
    // What has come stays for the next attempt, unless there is no room for it.
    if (/** @type {Error} */ (error).name === "QuotaExceededError") await giveUp();
    throw error;
  }
}

async function giveUp() {
  isFull = true;
  if (await record()) await sweep();
  else await caches.delete(STORE);
}

/**
 * Fetches one file and keeps it if it is what the list says: no error page, no login page, no other build's.
 * @param {Cache} cache
 * @param {string} address
 * @param {string} digest
 */
async function put(cache, address, digest) {
  // A host whose files all have one date may be believed only when it is asked for the file itself.
  for (const mode of /** @type {const} */ (["no-cache", "reload"])) {
    const answer = await fetched(address, mode);
    if (!isGood(answer)) throw new Error(`${address}: ${answer.status}`);
    const bytes = await answer.arrayBuffer();
    if ((await sha256(bytes)).startsWith(digest)) return cache.put(entry(address, digest), plain(answer, bytes));
  }
  throw new Error(`${address} is not that of the list`);
}

/**
 * The answer without what was true of its way here only.
 * @param {Response} answer
 * @param {ArrayBuffer} bytes
 */
function plain(answer, bytes) {
  const headers = new Headers(answer.headers);
  for (const name of ["content-encoding", "content-length", "transfer-encoding"]) headers.delete(name);
  return new Response(bytes, { headers });
}

/** @param {ArrayBuffer} bytes */
async function sha256(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

// ---- Sessions under way, and the end of all this

/** Whether a guided session runs or is paused in any window; it holds a lock of this name. */
async function running() {
  const locks = await navigator.locks?.query();
  return Boolean(locks?.held?.some((lock) => lock.name === `running ${PATH}`));
}

/**
 * The server has no list. During an upload that passes; after a day the site is another one.
 * @param {Kept} now
 */
async function doubt(now) {
  if (!now.gone) await write({ ...now, gone: Date.now() });
  else if (Date.now() - now.gone > DAY) await retire();
}

async function retire() {
  remembered = Promise.resolve(null);
  await caches.delete(STORE);
  await registration.unregister();
}

// ---- Life, and talk with pages (js/offline.js)

// All that is kept outlives this script, so a new one need not wait for every window to close. But if the old one is at
// work when it is asked to go, it goes only when it has been idle for half a minute, and to ask again is in vain (seen:
// Chromium 150). So it is asked when a page that has just opened has got its answers.
const REST = 2000; // ms

async function takeOver() {
  if (!(await running())) await skipWaiting();
}

const afterRest = () => new Promise((go) => setTimeout(go, REST)).then(takeOver);

addEventListener("install", (event) => {
  event.waitUntil(takeOver());
  afterRest();
});
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("message", (event) => {
  event.waitUntil(talk(event.data, event.ports[0]));
});

/**
 * {programme, wish: "keep", "look" or none} is answered, when that is done, with {build, kept}.
 * @param {{ programme: string, wish?: string }} message
 * @param {MessagePort} port
 */
async function talk({ programme, wish }, port) {
  if (wish === "take over") return afterRest();
  if (wish === "keep") await inTurn(() => keep(programme));
  if (wish === "look") await look();
  const now = await record();
  return port.postMessage({ build: now?.build ?? null, kept: isKept(now, programme, current) });
}
