"use strict";
// Keeps the planner on the device, so that it opens without a network. A new page has a new name here, and
// the old one is let go.
const name = "lastpump @version@", files = ["./", "index.html", "manifest.webmanifest", "icon.svg"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(name).then((c) => c.addAll(files)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys().then((all) =>
    Promise.all(all.filter((n) => n.startsWith("lastpump ") && n !== name).map((n) => caches.delete(n)))).then(() => self.clients.claim()));
});
self.addEventListener("fetch", (event) => {
  event.respondWith(caches.open(name).then((c) => c.match(event.request, { ignoreSearch: true })).then((kept) => kept || fetch(event.request)));
});
