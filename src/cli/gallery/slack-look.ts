// Slack's blocks as plain HTML, near enough to judge what stands where: the workspace itself sets type and colour.
import type { KnownBlock } from '@slack/types';
import { html, type Markup, type Piece } from '../../chat/bench/draw/html.ts';
import { drawCard } from '../../chat/slack/blocks.ts';
import type { Card } from '../../desk/card.ts';

type Rich = {
  readonly type: string;
  readonly text?: string;
  readonly style?: unknown;
  readonly elements?: readonly Rich[];
};

const isBold = (style: unknown): boolean =>
  typeof style === 'object' && style !== null && 'bold' in style && style.bold === true;

const rich = ({ type, text, style, elements = [] }: Rich): Piece => {
  switch (type) {
    case 'text':
      return isBold(style) ? html`<b>${text}</b>` : html`<span>${text}</span>`;
    case 'rich_text_list':
      return html`<ul>${elements.map((one) => html`<li>${rich(one)}</li>`)}</ul>`;
    case 'rich_text_quote':
      return html`<blockquote>${elements.map(rich)}</blockquote>`;
    case 'rich_text_section':
      return html`<span class="pre">${elements.map(rich)}</span>`;
    default:
      return elements.map(rich);
  }
};

const blockMarkup = (block: KnownBlock): Piece => {
  switch (block.type) {
    case 'header':
      return html`<h4>${block.text.text}</h4>`;
    case 'section':
      return html`<p class="pre">${block.text?.text}</p>`;
    case 'context':
      return html`<p class="small">${block.elements.map((one) => ('text' in one ? one.text : ''))}</p>`;
    case 'rich_text':
      return html`<div>${(block.elements as readonly Rich[]).map(rich)}</div>`;
    case 'actions':
      return html`<p>${block.elements.map((one) => (one.type === 'button' ? html`<span class="tap${one.style === 'primary' ? ' main' : ''}">${one.text.text}</span> ` : ''))}</p>`;
    default:
      return html`<p class="small">(${block.type})</p>`;
  }
};

/** Files and pictures are uploaded behind the card, each as a message of its own. */
export const slackLook = (card: Card, picture: Markup): Markup => {
  const { blocks } = drawCard(card, (name) => `U0${name.toUpperCase()}`);
  return html`<div class="slack">${blocks.map(blockMarkup)}</div>${
    card.picture ? html`<div class="behind">${picture}</div>` : ''
  }${(card.files ?? []).map(({ name, says }) => html`<div class="behind">${says}: ${name}</div>`)}`;
};
