// The frame of every page: letterhead, rail, the page's own part, dialogs.

import { whoDialog } from './dock.ts';
import { html, type Markup, type Piece } from './html.ts';
import type { Frame } from './time-words.ts';

export type PageParts = {
  readonly title: string;
  /** For the script: which page this is and what it follows. */
  readonly kind:
    | 'yard'
    | 'job'
    | 'card'
    | 'paper'
    | 'wall'
    | 'plans'
    | 'open'
    | 'enter'
    | 'people'
    | 'pass'
    | 'note';
  readonly job?: string;
  readonly thread?: string;
  /** The live event after which this page was drawn, and the bench's time, signed. */
  readonly since: string;
  readonly contact: string;
  readonly body: Piece;
};

export function pageMarkup(parts: PageParts, frame: Frame): string {
  const attributes = html` data-page="${parts.kind}" data-since="${parts.since}" data-contact="${parts.contact}" data-now="${frame.now}" data-zone="${frame.zone}"${parts.job === undefined ? '' : html` data-job="${parts.job}"`}${parts.thread === undefined ? '' : html` data-thread="${parts.thread}"`}${frame.who === undefined ? '' : html` data-name="${frame.who}"`}`;
  const isWall = parts.kind === 'wall';
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1, interactive-widget=resizes-content">
<meta name="color-scheme" content="light dark">
<title>${parts.title} · ${frame.workshop}</title>
<link rel="icon" href="/page/mark.svg" type="image/svg+xml">
<link rel="stylesheet" href="/page/bench.css">
<script type="module" src="/page/bench.js"></script>
</head>
<body class="${parts.kind}"${attributes}>
${isWall ? '' : skips(parts, frame)}
${isWall || parts.kind === 'enter' ? '' : letterhead(parts, frame)}
${parts.body}
<div class="hidden" id="tell-now" role="alert" aria-live="assertive"></div>
<div class="hidden" id="tell" role="status" aria-live="polite"></div>
${isWall || frame.proved === true || parts.kind === 'enter' ? '' : whoDialog(frame)}
${isWall ? '' : html`<dialog class="sheet" id="ask" aria-label="Fill in"></dialog>`}
<noscript><p class="slip">This page needs its script to send and to stay up to date. Allow scripts for this address, or use the terminal: npx chargehand start --terminal</p></noscript>
</body>
</html>
`.markup;
}

/** The first stops of the tab key: where one writes, what is wrong, and the page itself. */
function skips({ kind }: PageParts, frame: Frame): Markup {
  const hasTalk = kind === 'yard' || kind === 'job';
  const writes =
    frame.who === undefined ? '' : html`<a class="skip" href="#words">To your message</a>`;
  const flags = html`<a class="skip" href="#rail">To the flags</a>`;
  return html`${hasTalk ? writes : ''}${hasTalk || kind === 'card' ? flags : ''}<a class="skip" href="#main">To the main part</a>`;
}

function letterhead(parts: PageParts, frame: Frame): Markup {
  const isYard = parts.kind === 'yard';
  return html`<header class="letterhead"><div class="head-left">${isYard ? html`<p class="workshop">${frame.workshop}</p>` : html`<a class="workshop" href="/">${frame.workshop}: the yard</a>`}<p class="contact" id="contact" role="status">in contact</p></div>${whoMarkup(frame)}</header>`;
}

/** Who is posting: proved by a pass of one's own, or chosen, which is said. */
function whoMarkup({ who, proved }: Frame): Markup {
  if (proved === true) {
    return html`<a class="who" href="/pass"><span class="small">posting as</span><span class="who-name">${who}</span></a>`;
  }
  return html`<button type="button" class="who" data-open="who"><span class="small">posting as, not proved</span><span class="who-name">${who ?? 'nobody yet'}</span></button>`;
}
