// The sheet at the door, the controller's list of passes, and everybody's own pass.
import type { Invitation, Pass, PassFor } from '../door/passes.ts';
import { html, type Markup } from './html.ts';
import { qrPicture } from './qr-picture.ts';
import { type Frame, timeWords } from './time-words.ts';

export function enterBody(frame: Frame): Markup {
  return html`<main id="main" class="single"><form class="slip gate" id="enter"><h1>${frame.workshop}: come in</h1><div id="enter-by-link" hidden><p>You came with a QR code. One tap and this device has its pass.</p><button class="act main wide" type="submit">Come in</button></div><div id="enter-by-code"><p>Scan the QR code that a controller shows you, or type the short code.</p><label for="enter-code">Short code</label><input class="figure" id="enter-code" autocomplete="one-time-code" autocapitalize="characters" spellcheck="false" maxlength="12" placeholder="K7QM-2XRD"><div class="acts"><button class="act main" type="submit">Come in</button></div></div><p class="form-says" role="status"></p></form></main>`;
}

export type PeopleParts = {
  readonly passes: readonly Pass[];
  readonly people: readonly { readonly name: string; readonly roles: readonly string[] }[];
  readonly hasOwnCode: (person: string) => boolean;
};

/** The controller's list: who can come in with what, and a code for each. */
export function peopleBody({ passes, people, hasOwnCode }: PeopleParts, frame: Frame): Markup {
  const own = (name: string) => passes.filter((pass) => pass.kind === 'own' && pass.name === name);
  const tablets = passes.filter(({ kind }) => kind === 'tablet');
  return html`<main id="main" class="single people-main"><h1 class="page-title">Who comes in</h1>
<section class="slip" aria-labelledby="people-title"><h2 id="people-title">People</h2><p class="small">A code lets one device in, once, within ten minutes. Its pass lasts 30 days or until you end it.</p><ul class="pass-list">${people.map(
    ({ name, roles }) =>
      html`<li><p><strong>${name}</strong>, ${roles.join(', ')}</p><p class="small">${hasOwnCode(name) ? 'has an own code for shared tablets' : 'no own code for shared tablets yet'}</p>${passesMarkup(own(name), frame)}<button type="button" class="act plain" data-invite="${name}" data-kind="own">Code for ${name}</button></li>`,
  )}</ul></section>
<section class="slip" aria-labelledby="tablets-title"><h2 id="tablets-title">Shared tablets</h2><p class="small">Who is posting is chosen there and not proved. A release or an independent check asks for that person's own code.</p>${passesMarkup(tablets, frame)}<form id="tablet-form"><label for="tablet-name">Name of the tablet</label><input id="tablet-name" maxlength="60" required placeholder="Bay 3 tablet" autocomplete="off"><div class="acts"><button class="act plain" type="submit">Code for this tablet</button></div><p class="form-says" role="status"></p></form></section></main>`;
}

function passesMarkup(passes: readonly Pass[], frame: Frame): Markup {
  if (passes.length === 0) return html``;
  return html`<ul class="passes">${passes.map(
    (pass) =>
      html`<li><span>${pass.kind === 'tablet' ? `${pass.name}, ` : ''}in since ${timeWords(pass.madeAt, frame)}, until ${timeWords(pass.expires, frame)}, let in by ${pass.by}</span><button type="button" class="act grave" data-end="${pass.id}" aria-label="End it: the pass of ${pass.name} from ${timeWords(pass.madeAt, frame)}">End it</button></li>`,
  )}</ul>`;
}

/** What the controller shows to the one who comes in. */
export function invitationMarkup(
  who: PassFor,
  { code, expires }: Invitation,
  link: string,
  frame: Frame,
): Markup {
  return html`<div class="invitation"><h2>${who.name} comes in</h2>${qrPicture(link, `QR code that lets ${who.name} in`)}<p>Scan it with the camera of the device, or open <strong>${link.split('/enter')[0]}</strong> there and type</p><p class="short-code">${code}</p><p class="small">Good for one device, until ${timeWords(expires, frame)}.</p><div class="acts"><button type="button" class="act plain" data-close>Done</button></div></div>`;
}

/** One's own pass: how long it lasts, the own code, leaving. */
export function ownPassBody(pass: Pass, hasOwnCode: boolean, frame: Frame): Markup {
  const ownCode =
    pass.kind === 'tablet'
      ? ''
      : html`<section class="slip" aria-labelledby="own-code-title"><h2 id="own-code-title">Your own code</h2><p>On a shared tablet a release or an independent check asks for it. ${hasOwnCode ? 'You have one; a new one takes its place.' : 'You have none yet.'}</p><form id="own-code"><label for="own-code-words">New code, 6 signs or more</label><input id="own-code-words" type="password" autocomplete="new-password" minlength="6" maxlength="40" required><div class="acts"><button class="act main" type="submit">Set it</button></div><p class="form-says" role="status"></p></form></section>`;
  return html`<main id="main" class="single people-main"><h1 class="page-title">${pass.kind === 'tablet' ? pass.name : 'My pass'}</h1><section class="slip"><p>${pass.kind === 'tablet' ? 'This is a shared tablet: who is posting is chosen and not proved.' : `This device is ${pass.name}'s.`} Let in by ${pass.by} on ${timeWords(pass.madeAt, frame)}; the pass ends ${timeWords(pass.expires, frame)}.</p><div class="acts"><button type="button" class="act grave" data-leave>End it on this device</button><a class="act plain" href="/">To the yard</a></div><p class="form-says" role="status"></p></section>${ownCode}</main>`;
}
