// The page's script: joins the parts. The pages are drawn by the bench; this sends, and keeps them up to date.
import { startComposer } from './composer.js';
import { startLive } from './live.js';
import { startOutbox } from './outbox.js';
import { startPasses } from './passes.js';
import { startPlanDesk } from './plan-desk.js';
import { scrollToEnd } from './roll.js';
import { startSheets } from './sheets.js';
import { startWall } from './wall.js';

const page = document.body.dataset.page ?? 'note';

startSheets();
startPasses();
const outbox = startOutbox();
startComposer(outbox);
if (page === 'yard' || page === 'job' || page === 'card' || page === 'wall') startLive(outbox);
if (page === 'wall') startWall();
if (page === 'plans') startPlanDesk();
if (page === 'job' || page === 'yard') scrollToEnd(page === 'job');

// Only where the browser allows it: on this machine itself, or over TLS.
if ('serviceWorker' in navigator) {
  navigator.serviceWorker.register('/page/sw.js', { scope: '/' }).catch(() => {});
}
