// The text as its writer sees it: the bot's own mention taken out, markup read, quotations told apart.
import { convert } from 'html-to-text';
import type { Activity } from './activity-form.ts';

const mentions = (
  activity: Activity,
): readonly { readonly text: string; readonly id: string; readonly name: string }[] =>
  (activity.entities ?? []).flatMap((entity) => {
    if (entity.type !== 'mention') return [];
    const { text, mentioned } = entity as { text?: unknown; mentioned?: unknown };
    const { id, name } = (mentioned ?? {}) as { id?: unknown; name?: unknown };
    return typeof text === 'string' && typeof id === 'string' && text !== ''
      ? [{ text, id, name: typeof name === 'string' ? name : '' }]
      : [];
  });

/** The body as markup; Teams sends it beside the plain text, and only there a quotation can be told from the rest. */
const markupOf = (activity: Activity): string | undefined => {
  const found = (activity.attachments ?? []).find((each) => each.contentType === 'text/html');
  return typeof found?.content === 'string' ? found.content : undefined;
};

const plain = (markup: string): string =>
  convert(markup, {
    wordwrap: false,
    limits: { maxInputLength: 200_000, maxDepth: 40 },
    selectors: [
      { selector: 'a', options: { ignoreHref: true } },
      { selector: 'img', format: 'skip' },
      { selector: 'p', options: { leadingLineBreaks: 1, trailingLineBreaks: 1 } },
      { selector: 'ul', options: { itemPrefix: '', leadingLineBreaks: 1, trailingLineBreaks: 1 } },
    ],
  });

/** @param nameOf the name behind an id, where the settings know it */
export const saidText = (
  activity: Activity,
  nameOf: (id: string) => string | undefined = () => undefined,
): string => {
  const own = activity.recipient?.id;
  const markup = markupOf(activity);
  const hasQuote = markup !== undefined && /<blockquote/iu.test(markup);
  let text = activity.text ?? '';
  if (hasQuote && markup !== undefined) text = markup;
  for (const mention of mentions(activity)) {
    const said = mention.id === own ? '' : (nameOf(mention.id) ?? mention.name);
    text = text.split(mention.text).join(said);
  }
  if (hasQuote && own !== undefined)
    // In the markup the mention is a tag of its own, named by the person it stands for.
    text = text.replace(/<at\b[^>]*>([^<]*)<\/at>/giu, (_, name: string) =>
      name.trim() === (activity.recipient?.name ?? '').trim() ? '' : name,
    );
  const isMarkup = hasQuote || activity.textFormat === 'xml' || /<(?:p|div|br|at)\b/iu.test(text);
  const read = isMarkup || /&(?:nbsp|amp|lt|gt|quot|#\d+);/u.test(text) ? plain(text) : text;
  return read.replace(/\u00a0/gu, ' ').trim();
};
