// Keeps the pages so that a tablet may reload while offline. Answers of the server are never kept here.
const STORE = "rehaul-pages";

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("install", (event) => {
  // Where a browser can be told so, it asks the server itself and does not wake this for it.
  event.addRoutes?.({ condition: { urlPattern: "/api/*" }, source: "network" });
  event.waitUntil(
    caches
      .open(STORE)
      .then((store) => store.add("/"))
      .then(() => self.skipWaiting()),
  );
});
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== location.origin || url.pathname.startsWith("/api/")) return;
  event.respondWith(answer(event.request, url));
});

async function answer(request, url) {
  const store = await caches.open(STORE);
  const key = request.mode === "navigate" ? "/" : request;
  if (url.pathname.startsWith("/assets/")) {
    const kept = await store.match(request);
    if (kept) return kept;
  }
  try {
    const fresh = await fetch(request);
    if (fresh.ok) await store.put(key, fresh.clone());
    return fresh;
  } catch (fault) {
    const kept = await store.match(key);
    if (kept) return kept;
    throw fault;
  }
}
