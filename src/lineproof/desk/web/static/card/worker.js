// Keeps the shell of the card on the phone. What is kept must bear its hash: the page of a portal is never kept.
// Records are not here: they lie in the phone's own store, which no new worker touches.
const OURS = /^card-/;

const hashed = async (body) =>
  Array.from(new Uint8Array(await crypto.subtle.digest("SHA-256", body)), (b) => b.toString(16).padStart(2, "0")).join("");

const keep = async () => {
  const cache = await caches.open(NAME);
  await Promise.all(Object.entries(KEPT).map(async ([path, hash]) => {
    const answer = await fetch(path, { cache: "no-store", redirect: "error" });
    if (!answer.ok || (await hashed(await answer.clone().arrayBuffer())) !== hash) throw new Error(`${path} is not ours`);
    await cache.put(path, answer);
  }));
};

self.addEventListener("install", (event) => event.waitUntil(keep()));
self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (OURS.test(name) && name !== NAME) await caches.delete(name);
  await self.clients.claim();
})()));
self.addEventListener("message", (event) => { if (event.data === "take over") self.skipWaiting(); });

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  const path = request.mode === "navigate" && url.pathname.startsWith("/card/") ? "/card/" : url.pathname;
  if (!(path in KEPT)) return;
  event.respondWith((async () => (await (await caches.open(NAME)).match(path)) ?? fetch(request))());
});
