// An Adaptive Card as plain HTML, near enough to judge what stands where.
import { html, type Markup, type Piece } from '../../chat/bench/draw/html.ts';
import { drawCard, type Element } from '../../chat/teams/adaptive-card.ts';
import type { Card } from '../../desk/card.ts';

const list = (value: unknown): readonly Element[] => (Array.isArray(value) ? value : []);
const text = (value: unknown): string => (typeof value === 'string' ? value : '');

const inline = (one: Element): Piece =>
  one.weight === 'Bolder' ? html`<b>${text(one.text)}</b>` : html`<span>${text(one.text)}</span>`;

const elementMarkup =
  (picture: Markup) =>
  (element: Element): Piece => {
    switch (element.type) {
      case 'TextBlock':
        return html`<p class="pre${element.weight === 'Bolder' ? ' strong' : ''}">${text(element.text)}</p>`;
      case 'RichTextBlock':
        return html`<p class="pre">${list(element.inlines).map(inline)}</p>`;
      case 'FactSet':
        return html`<dl>${list(element.facts).map((fact) => html`<dt>${text(fact.title)}</dt><dd>${text(fact.value)}</dd>`)}</dl>`;
      case 'Image':
        return html`<div>${picture}</div>`;
      case 'ActionSet':
        return html`<p>${list(element.actions).map(tap)}</p>`;
      default:
        return html`<div>${[...list(element.items), ...list(element.columns), ...list(element.body)].map(elementMarkup(picture))}</div>`;
    }
  };

const tap = (action: Element): Piece => html`<span class="tap">${text(action.title)}</span> `;

/** Files are linked from the card where the bot has an address of its own. */
export const teamsLook = (card: Card, picture: Markup): Markup => {
  const { card: drawn } = drawCard(
    card,
    (card.tells ?? []).map((name) => ({ name, id: `29:${name}` })),
    undefined,
    card.picture ? 'https://bot.example/picture' : undefined,
    (card.files ?? []).map(({ name, says }) => ({ name, says, url: 'https://bot.example/file' })),
  );
  return html`<div class="teams">${list(drawn.body).map(elementMarkup(picture))}<p>${list(drawn.actions).map(tap)}</p></div>`;
};
