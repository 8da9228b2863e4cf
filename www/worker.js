// The service worker: after the first visit the page works without a network.
//
// `cellwright build` puts VERSION, FILES and SHELF (path below this folder, integrity value) in front and writes the whole
// beside index.html as sw.js, for a worker reaches no further up than its own folder. Each version has a cache of its
// own, filled whole or not at all; the integrity values keep two versions from being mixed while a host is being
// updated. A new version waits until a tab that is alone asks for it, or until every tab is closed.

const scope = new URL(self.registration.scope);
const PREFIX = `cellwright ${scope.pathname} `;
const CACHE = PREFIX + VERSION;
// The books, each kept when it was opened, by what stands in it: they outlast the versions in which they do not change.
const BOOKS = PREFIX + "books";

/** The address under which a file is fetched and kept; index.html is the folder itself. */
const address = (path) => new URL(path === "index.html" ? "./" : path, scope).href;

self.addEventListener("install", (event) => event.waitUntil(fill()));

async function fill() {
  const cache = await caches.open(CACHE);
  // A host that goes back to an earlier version may give the one that is at work: what is kept of it stays as it is.
  const kept = new Set((await cache.keys()).map((request) => request.url));
  const missing = Object.entries(FILES).filter(([path]) => !kept.has(address(path)));
  try {
    await Promise.all(missing.map(async ([path]) => cache.put(address(path), await fetched(path))));
  } catch (error) {
    if (kept.size === 0) await caches.delete(CACHE);
    throw error;
  }
}

/** A file of this version from the network, checked. */
async function fetched(path) {
  const integrity = FILES[path] ?? SHELF[path];
  // A network that asks for a password first may have left a page of its own in the browser's cache, under a date by which the host takes it
  // for the file: then past that cache.
  const response = await fetch(address(path), { cache: "no-cache", integrity })
    .catch(() => fetch(address(path), { cache: "reload", integrity }));
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  // Told anew: a response that a host redirected may not answer a navigation.
  const headers = { "Content-Type": response.headers.get("Content-Type") ?? "application/octet-stream" };
  return new Response(await response.blob(), { headers });
}

self.addEventListener("activate", (event) => event.waitUntil(begin()));

async function begin() {
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && ![CACHE, BOOKS].includes(name));
  await Promise.all(others.map((name) => caches.delete(name)));
  await renewBooks();
  await self.clients.claim();
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== scope.origin || !url.pathname.startsWith(scope.pathname)) return;
  const path = url.pathname.slice(scope.pathname.length) || "index.html";
  if (Object.hasOwn(FILES, path)) event.respondWith(answer(request, path));
  else if (Object.hasOwn(SHELF, path)) event.respondWith(book(path));
});

/** The key under which a book is kept: another text is another book. */
const bookKey = (path) => `${address(path)}?${encodeURIComponent(SHELF[path])}`;

/** A book as it was kept; else from the network, and kept from then on. */
async function book(path) {
  const cache = await caches.open(BOOKS);
  const kept = await cache.match(bookKey(path));
  if (kept) return kept;
  const response = await fetched(path);
  // A browser that has no room keeps nothing; the book is read all the same.
  await cache.put(bookKey(path), response.clone()).catch(() => {});
  return response;
}

/** Books that were kept and have changed are fetched anew where that can be done now, and later when they are opened. */
async function renewBooks() {
  if (!(await caches.has(BOOKS))) return;
  const cache = await caches.open(BOOKS);
  const wanted = new Set(Object.keys(SHELF).map(bookKey));
  for (const request of await cache.keys()) {
    if (wanted.has(request.url)) continue;
    await cache.delete(request);
    const path = request.url.split("?")[0].slice(scope.href.length);
    if (Object.hasOwn(SHELF, path)) await book(path).catch(() => {});
  }
}

/** From this version's cache; what the browser has thrown out of it comes from the network, checked, and is put back. */
async function answer(request, path) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(address(path));
  if (kept) return kept;
  try {
    const response = await fetched(path);
    await cache.put(address(path), response.clone()).catch(() => {});
    return response;
  } catch (error) {
    // In place of the page itself, a network that asks for a password first may show its own, and a new version the page that
    // belongs to it.
    if (request.mode === "navigate") return fetch(request);
    throw error;
  }
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
