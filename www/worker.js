// The service worker: after the first visit the page works without a network.
//
// `cellwright build` puts VERSION and FILES (path below this folder, integrity value) in front and writes the whole
// beside index.html as sw.js, for a worker reaches no further up than its own folder. Each version has a cache of its
// own, filled whole or not at all; the integrity values keep two versions from being mixed while a host is being
// updated. A new version waits until a tab that is alone asks for it, or until every tab is closed.

const scope = new URL(self.registration.scope);
const PREFIX = `cellwright ${scope.pathname} `;
const CACHE = PREFIX + VERSION;

/** The address under which a file is fetched and kept; index.html is the folder itself. */
const address = (path) => new URL(path === "index.html" ? "./" : path, scope).href;

self.addEventListener("install", (event) => event.waitUntil(fill()));

async function fill() {
  const cache = await caches.open(CACHE);
  // A host that goes back to an earlier version may give the one that is at work: what is kept of it stays as it is.
  const kept = new Set((await cache.keys()).map((request) => request.url));
  const missing = Object.entries(FILES).filter(([path]) => !kept.has(address(path)));
  try {
    await Promise.all(missing.map(async ([path, integrity]) => {
      const response = await fetch(address(path), { cache: "no-cache", integrity });
      if (!response.ok) throw new Error(`${path}: ${response.status}`);
      // Told anew: a response that a host redirected may not answer a navigation.
      const headers = { "Content-Type": response.headers.get("Content-Type") ?? "application/octet-stream" };
      await cache.put(address(path), new Response(await response.blob(), { headers }));
    }));
  } catch (error) {
    if (kept.size === 0) await caches.delete(CACHE);
    throw error;
  }
}

self.addEventListener("activate", (event) => event.waitUntil(begin()));

async function begin() {
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(others.map((name) => caches.delete(name)));
  await self.clients.claim();
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== scope.origin || !url.pathname.startsWith(scope.pathname)) return;
  const path = url.pathname.slice(scope.pathname.length) || "index.html";
  if (Object.hasOwn(FILES, path)) event.respondWith(answer(request, address(path)));
});

/** From this version's cache; from the network only what the browser has thrown out of it. */
async function answer(request, kept) {
  const cache = await caches.open(CACHE);
  return (await cache.match(kept)) ?? fetch(request);
}

self.addEventListener("message", (event) => {
  if (event.data === "which version") event.ports[0].postMessage(VERSION);
  if (event.data === "take over") event.waitUntil(takeOver(event.ports[0]));
});

/** Only a tab that is alone may change the version: in another one somebody may be at work. */
async function takeOver(port) {
  const tabs = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  const ours = tabs.filter((tab) => tab.url.startsWith(scope.href));
  if (ours.length > 1) {
    port.postMessage("other tabs");
    return;
  }
  port.postMessage("yes");
  await self.skipWaiting();
}
