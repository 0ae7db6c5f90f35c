import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CHECK_SYSTEMS,
  type CheckSystem,
  checkCharacters,
  checkFor,
  isCheckSystem,
  verifyCheck,
} from '../../src/trade/check-character.ts';
import { problemIn, valueIn } from './unwrap.ts';

const STDNUM = 'python-stdnum, its doctests';

describe('a published check', () => {
  it.each([
    ['mod 10', '7992739871', '3', 'the usual Luhn example, from memory'],
    ['mod 10', '7894', '9', STDNUM],
    ['mod 11-2', '0794', '0', `ISO/IEC 7064 example, by ${STDNUM}`],
    ['mod 11-2', '079', 'X', `ISO/IEC 7064 example, by ${STDNUM}`],
    ['mod 11-2', '000000012281955', 'X', 'an ISNI as ISO 27729 prints it, from memory'],
    ['mod 37-2', 'G123489654321', 'Y', STDNUM],
    ['mod 37-2', 'G123498654321', 'H', STDNUM],
    ['mod 97-10', '99991234567890121414', '90', STDNUM],
    ['mod 97-10', '4354111611551114', '31', STDNUM],
    ['mod 97-10', '22181321402534321446701611', '35', STDNUM],
    // IBAN GB82 WEST 1234 5698 7654 32 with the country behind and letters as numbers, A 10 to Z 35.
    ['mod 97-10', '32142829123456987654321611', '82', 'sample IBAN of ISO 13616, from memory'],
    ['mod 11,10', '0794', '5', `ISO/IEC 7064 example, by ${STDNUM}`],
    ['mod 11,10', '79462', '3', STDNUM],
    ['mod 11,10', '00200667308', '5', STDNUM],
    ['mod 11,10', '00200667309', '3', STDNUM],
    ['mod 11,10', '00200667310', '8', STDNUM],
    ['mod 11,10', '00200667311', '6', STDNUM],
    ['mod 11,10', '00200667312', '4', STDNUM],
    ['mod 37,36', 'A12425GABC1234002', 'M', STDNUM],
  ] as const)('%s of %s is %s (%s)', (system, body, check, _source) => {
    expect(valueIn(checkFor(body, system))).toBe(check);
    expect(valueIn(verifyCheck(body + check, system)).holds).toBe(true);
  });

  it.each([
    ['mod 11,10', '12323', true],
    ['mod 11,10', '546794', true],
    ['mod 11,10', '002006673084', false],
    ['mod 10', '7894', false],
    ['mod 97-10', '08686001256515001121751', true],
  ] as const)('%s of %s holds: %s (python-stdnum, its doctests)', (system, code, holds) => {
    expect(valueIn(verifyCheck(code, system)).holds).toBe(holds);
  });
});

const bodyOf = (system: CheckSystem) => {
  const letters = checkFor('A', system).ok;
  const alphabet = letters ? '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ' : '0123456789';
  return {
    alphabet,
    body: fc.string({ unit: fc.constantFrom(...alphabet), minLength: 1, maxLength: 20 }),
  };
};

describe.each(CHECK_SYSTEMS)('%s', (system) => {
  const { alphabet, body } = bodyOf(system);

  it('accepts what it computes', () => {
    fc.assert(
      fc.property(body, (text) => {
        expect(valueIn(verifyCheck(text + valueIn(checkFor(text, system)), system)).holds).toBe(
          true,
        );
      }),
    );
  });

  it('finds every single wrong character, the check itself included', () => {
    fc.assert(
      fc.property(body, (text) => {
        const whole = [...(text + valueIn(checkFor(text, system)))];
        for (const [place, right] of whole.entries()) {
          const set = place < text.length ? alphabet : checkCharacters(system);
          for (const wrong of set) {
            if (wrong === right) continue;
            const code = whole.with(place, wrong).join('');
            expect(verifyCheck(code, system), code).toMatchObject({ value: { holds: false } });
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('a swap of neighbours', () => {
  it.each(['mod 11-2', 'mod 37-2', 'mod 97-10'] as const)('is found by %s every time', (system) => {
    fc.assert(
      fc.property(bodyOf(system).body, (text) => {
        const check = valueIn(checkFor(text, system));
        for (let place = 0; place + 1 < text.length; place += 1) {
          const [a = '', b = ''] = [text[place], text[place + 1]];
          if (a === b) continue;
          const swapped = text.slice(0, place) + b + a + text.slice(place + 2);
          expect(valueIn(verifyCheck(swapped + check, system)).holds).toBe(false);
        }
      }),
    );
  });

  it('is missed by mod 10 only for 09 and 90', () => {
    const missed: string[] = [];
    for (let pair = 0; pair < 100; pair += 1) {
      const text = String(pair).padStart(2, '0');
      const swapped = `${text[1]}${text[0]}`;
      if (text !== swapped) {
        if (valueIn(checkFor(text, 'mod 10')) === valueIn(checkFor(swapped, 'mod 10')))
          missed.push(text);
      }
    }
    expect(missed).toEqual(['09', '90']);
  });
});

describe('what cannot be checked', () => {
  it('is said, with the place', () => {
    expect(problemIn(checkFor('12A4', 'mod 10')).what).toBe(
      '"A" at place 3 has no value in ISO/IEC 7812-1 mod 10, which takes digits.',
    );
    expect(problemIn(checkFor('', 'mod 37,36')).what).toBe('The code is empty.');
    expect(problemIn(verifyCheck('9', 'mod 97-10')).what).toContain('too short');
    expect(isCheckSystem('mod 10')).toBe(true);
    expect(isCheckSystem('toString')).toBe(false);
  });

  it('and a check that fails names both', () => {
    expect(valueIn(verifyCheck('79927398710', 'mod 10')).answer).toBe(
      'Check fails: the code ends in 0, the rest calls for 3, by ISO/IEC 7812-1 mod 10. At least one character is misread; read the label again.',
    );
  });
});
