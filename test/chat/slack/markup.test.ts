import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shorten, tidy } from '../../../src/chat/plain-words.ts';
import { escapeText, escapeWithin, readText } from '../../../src/chat/slack/markup.ts';

const nameOf = (id: string) => (id === 'U0ADA001' ? 'Ada' : undefined);
const read = (text: string) => readText(text, nameOf, 'U0CHARGE1');

describe('readText', () => {
  it.each([
    ['drained 28 L', 'drained 28 L'],
    ['clearance &lt; 0.4 mm &amp; rising', 'clearance < 0.4 mm & rising'],
    ['&amp;lt; stays as it was typed', '&lt; stays as it was typed'],
    ['<@U0ADA001> did the fuel lines', 'Ada did the fuel lines'],
    ['<@U0OTHER1|jo.h> did it', 'jo.h did it'],
    ['<@U0OTHER1> did it', '@U0OTHER1 did it'],
    ['see <#C0SHOP01|shop>', 'see #shop'],
    ['<!here> lunch', '@here lunch'],
    ['<!subteam^S0123|@late-shift> look', '@late-shift look'],
    ['<!date^1392734382^{date}|18 Feb> it was', '18 Feb it was'],
    ['<https://example.org/a?b=1&amp;c=2|the sheet>', 'the sheet'],
    ['<https://example.org/a?b=1&amp;c=2>', 'https://example.org/a?b=1&c=2'],
    ['call <tel:0123456|0123 456>', 'call 0123 456'],
    ['<mailto:a@example.org>', 'a@example.org'],
    ['<@U0CHARGE1> where are we', 'where are we'],
    ['<@U0CHARGE1>: drained', 'drained'],
    ['hello <@U0CHARGE1> there', 'hello there'],
    ['typed &lt;@U0ADA001&gt; by hand', 'typed <@U0ADA001> by hand'],
    ['2 < 3', '2 < 3'],
  ])('%s', (sent, plain) => {
    expect(read(sent)).toBe(plain);
  });

  it('gives back every text that was escaped', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(read(escapeText(text))).toBe(text);
      }),
    );
  });
});

describe('on the way out', () => {
  it('leaves nothing that could be a mention or a link', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(escapeText(`<!channel> ${text}`)).not.toMatch(/[<>]/u);
      }),
    );
  });

  it('cuts no character and no entity in two', () => {
    expect(shorten('ab😀cd', 4)).toBe('ab…');
    expect(escapeWithin('&&&&', 11)).toBe('&amp;&amp;…');
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('&', '<', 'a', '😀'), maxLength: 60 }),
        fc.integer({ min: 6, max: 60 }),
        (text, most) => {
          const escaped = escapeWithin(text, most);
          expect(escaped.length).toBeLessThanOrEqual(most);
          expect(escaped.replace(/&(?:amp|lt|gt);/gu, '')).not.toContain('&');
          // Throws for half a character.
          expect(() => encodeURIComponent(escaped)).not.toThrow();
        },
      ),
    );
  });

  it('takes out what hides or turns a text', () => {
    expect(tidy('a\u0000b\u202ec\r\nd\te')).toBe('abc\nd e');
  });
});
