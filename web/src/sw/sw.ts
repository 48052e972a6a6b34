// The service worker keeps the app's own files, so that a phone can open Yokemate with no network.
//
// It knows nothing of builds or records: it never touches /api/, and answers GET only. What waits to be handed over
// lives in IndexedDB and is the outbox's business. A new version waits until the person says yes (see app/shell.ts).

declare const self: ServiceWorkerGlobalScope;
// Both are filled in by the build (vite.config.ts).
declare const __SHELL_FILES__: readonly string[];
declare const __SHELL_VERSION__: string;

const PREFIX = "yokemate-shell-";
const CACHE = PREFIX + __SHELL_VERSION__;
const FILES = new Set(__SHELL_FILES__);

self.addEventListener("install", (event) => {
  // "reload" walks past the browser's own HTTP cache: the shell must be one version, not a mixture.
  const requests = [...FILES].map((path) => new Request(path, { cache: "reload" }));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(requests)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => names.filter((name) => name.startsWith(PREFIX) && name !== CACHE))
      .then((old) => Promise.all(old.map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take-over") event.waitUntil(self.skipWaiting());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname === "/api" || url.pathname.startsWith("/api/")) return;
  // Every screen is the same page; the address picks the screen once the script runs.
  const path = request.mode === "navigate" ? "/" : url.pathname;
  if (!FILES.has(path)) return;
  event.respondWith(
    caches
      .open(CACHE)
      .then((cache) => cache.match(path))
      .then((kept) => kept ?? fetch(request)),
  );
});

export {};
