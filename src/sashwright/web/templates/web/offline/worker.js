// Keeps the survey's page and its files, all of one digest together, and answers with them. It keeps nothing
// else, and nothing that is sent passes through it.

const KEPT = "survey-{{ digest }}";
const PAGE = "{{ page }}";
const FILES = {{ files|safe }};

self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(KEPT);
      const answers = await Promise.all(
        FILES.map(async (file) => {
          const answer = await fetch(file, { cache: "reload", credentials: "same-origin" });
          // A page to sign in must not take the place of the survey.
          if (!answer.ok || answer.redirected) throw new Error(file);
          return [file, answer];
        }),
      );
      await Promise.all(answers.map(([file, answer]) => cache.put(file, answer)));
    })(),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith("survey-") && name !== KEPT) await caches.delete(name);
      }
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin || !FILES.includes(url.pathname)) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(KEPT);
      return (await cache.match(url.pathname)) ?? fetch(request);
    })(),
  );
});
