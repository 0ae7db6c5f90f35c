// Lets a page that was open before open again without contact, as it was last seen. What is sent is never kept here:
// that is the outbox's matter.

const SHELF = 'chargehand-pages';
const PATIENCE = 4_000;
/** @type {any} */
const worker = self;

worker.addEventListener('install', () => worker.skipWaiting());
worker.addEventListener('activate', (/** @type {any} */ event) =>
  event.waitUntil(worker.clients.claim()),
);

worker.addEventListener('fetch', (/** @type {any} */ event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin) return;
  const isPage = request.mode === 'navigate';
  if (!isPage && !url.pathname.startsWith('/page/')) return;
  event.respondWith(freshOrKept(request));
});

/** @param {Request} request */
async function freshOrKept(request) {
  const shelf = await caches.open(SHELF);
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE) });
    if (fresh.ok && !fresh.redirected) await shelf.put(request.url, fresh.clone());
    return fresh;
  } catch {
    const kept = await shelf.match(request.url);
    return (
      kept ??
      new Response(
        'No contact with the bench, and this page was not open here before. Go back, or try again when there is contact.',
        { status: 503, headers: { 'content-type': 'text/plain; charset=utf-8' } },
      )
    );
  }
}
