// "Timeline", "hours ahead": a picture, with the same content in words for those who do not see it.
import type { Card } from '../card.ts';
import type { Shown } from '../reports.ts';

export const pictureCard = ({ picture, text }: Shown): Card => {
  const [title = '', ...lines] = text.split('\n');
  return {
    title: title.replace(/\.$/u, ''),
    text,
    blocks: lines.length > 0 ? [{ kind: 'list', items: lines }] : [],
    picture,
  };
};
