// Keeps the look and the scripts; when nothing serves, says so instead of the browser's own page.
const STORE = "tintop-static";
const AWAY = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Not serving</title><h1>The laptop is not serving the page</h1>
<p>Start it with <code>tintop serve</code> and load this page again. What you typed is kept on this device.</p></html>`;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== location.origin) return;
  if (address.pathname.startsWith("/static/")) {
    event.respondWith(caches.open(STORE).then(async (store) => {
      const kept = await store.match(event.request);
      if (kept) return kept;
      const fresh = await fetch(event.request);
      if (fresh.ok) {
        for (const old of await store.keys()) {
          if (new URL(old.url).pathname.split("/")[2] !== address.pathname.split("/")[2]) await store.delete(old);
        }
        await store.put(event.request, fresh.clone());
      }
      return fresh;
    }));
  } else if (event.request.mode === "navigate") {
    event.respondWith(fetch(event.request).catch(() =>
      new Response(AWAY, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } })));
  }
});
