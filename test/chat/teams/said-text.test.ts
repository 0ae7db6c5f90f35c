import { describe, expect, it } from 'vitest';
import { Activity } from '../../../src/chat/teams/activity-form.ts';
import { saidText } from '../../../src/chat/teams/said-text.ts';

const said = (more: object, nameOf?: (id: string) => string | undefined): string =>
  saidText(
    Activity.parse({
      type: 'message',
      serviceUrl: 'https://service.example',
      from: { id: '29:a' },
      recipient: { id: '28:bot', name: 'Chargehand' },
      conversation: { id: '19:x@thread.tacv2' },
      ...more,
    }),
    nameOf,
  );

const mention = (text: string, id: string, name: string) => ({
  type: 'mention',
  text,
  mentioned: { id, name },
});

describe('the text of a message as its writer sees it', () => {
  it('is without the bot’s own mention, and names other people as the settings do', () => {
    expect(
      said(
        {
          text: '<at>Chargehand</at> tell <at>Joanna Bright</at> drained 28&nbsp;L\n',
          entities: [
            mention('<at>Chargehand</at>', '28:bot', 'Chargehand'),
            mention('<at>Joanna Bright</at>', '29:jo', 'Joanna Bright'),
          ],
        },
        (id) => (id === '29:jo' ? 'Jo' : undefined),
      ),
    ).toBe('tell Jo drained 28 L');
  });

  it('keeps signs that are no markup', () => {
    expect(said({ text: 'gap < 0.4 & > 0.3' })).toBe('gap < 0.4 & > 0.3');
    expect(said({ text: 'cyl 3 &lt; 60 &amp; rest ok' })).toBe('cyl 3 < 60 & rest ok');
  });

  it('reads markup of several lines', () => {
    expect(said({ textFormat: 'xml', text: '<div>cap off</div><div>drained 28 L</div>' })).toBe(
      'cap off\ndrained 28 L',
    );
  });

  it('sets a quotation apart, since somebody else said it', () => {
    const text = said({
      text: 'Ada drained 28 L did that get measured',
      attachments: [
        {
          contentType: 'text/html',
          content:
            '<blockquote itemscope itemtype="http://schema.skype.com/Reply"><strong>Ada</strong><p>drained 28 L</p></blockquote><p>did that get measured</p>',
        },
      ],
    });
    expect(text.split('\n').filter((line) => !line.startsWith('>') && line.trim() !== '')).toEqual([
      'did that get measured',
    ]);
    expect(text).toContain('> drained 28 L');
  });

  it('takes text without an end in bounded steps', () => {
    expect(said({ text: `<p>${'<b>'.repeat(20_000)}` }).length).toBeLessThan(100_000);
  });
});
