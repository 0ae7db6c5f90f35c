import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileNameOf } from '../../src/store/file-name.ts';

describe('file names from job numbers', () => {
  it.each([
    ['1042', 'job-1042'],
    ['1042/A', 'job-1042_2f_41'],
    ['..', 'job-_2e_2e'],
    ['é', 'job-_u00e9'],
    ['con', 'job-con'],
  ])('%j is %s', (job, name) => expect(fileNameOf(job)).toBe(name));

  it('are short, plain and in small letters for any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (job) => {
        expect(fileNameOf(job)).toMatch(/^job-[a-z0-9_-]{0,116}$/);
      }),
    );
  });

  it('differ for different job numbers, whatever the disk thinks of capital letters', () => {
    const names = new Map<string, string>();
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (job) => {
        const name = fileNameOf(job).toLowerCase().normalize('NFC');
        expect(names.get(name) ?? job).toBe(job);
        names.set(name, job);
      }),
    );
  });
});
