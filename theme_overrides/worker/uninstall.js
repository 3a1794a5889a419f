// Takes the worker off every device. The preview has this as sw.js; a site that should work offline no longer gets
// it as sw.js too (see the README of theme_overrides/).

const STORE = `offline ${new URL("./", location.href).pathname}`;

// Once more after a rest, since a worker that is at work just then would go on for half a minute (see sw.js).
addEventListener("install", (event) => {
  event.waitUntil(skipWaiting());
  setTimeout(() => skipWaiting(), 2000);
});
addEventListener("activate", (event) => event.waitUntil(leave()));

async function leave() {
  await caches.delete(STORE);
  await registration.unregister();
}
