import { describe, expect, it } from 'vitest';
import { auditFrom } from '../audit.ts';

describe('an audit of the packages', () => {
  it('without a finding is clean', () => {
    const output = JSON.stringify({
      vulnerabilities: {},
      metadata: { vulnerabilities: { high: 0, total: 0 } },
    });
    expect(auditFrom(output)).toEqual({ kind: 'clean' });
  });
  it('with a finding names the packages', () => {
    const output = JSON.stringify({
      vulnerabilities: { leftish: { severity: 'high' } },
      metadata: { vulnerabilities: { high: 1, total: 1 } },
    });
    expect(auditFrom(output)).toEqual({
      kind: 'found',
      says: '1 known to be unsafe: leftish (high)',
    });
  });
  it.each([
    [
      'npm warn\n{"message":"405 Method Not Allowed","error":{"summary":""}}',
      '405 Method Not Allowed',
    ],
    ['', 'npm gave no answer that can be read'],
    ['{}', 'npm gave no counts'],
  ])('that nobody answers is not called clean: %s', (output, why) =>
    expect(auditFrom(output)).toEqual({ kind: 'no answer', why }),
  );
});
