// Takes the worker off every device. The preview has this as sw.js; a site that should work offline no longer gets
// it as sw.js too (see DEVELOPERS.md).

const STORE = `offline ${new URL("./", location.href).pathname}`;

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(leave()));

async function leave() {
  await caches.delete(STORE);
  await registration.unregister();
}
