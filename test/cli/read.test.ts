// `read` as another program uses it: what is wrong with a line is said in words.
import { describe, expect, it } from 'vitest';
import { runCommand } from './run-command.ts';

describe('read', () => {
  it('names each line that is no message and answers the others', () => {
    const { code, out, err } = runCommand(['read', '--plan', 'data/plans/coolant-pump.yaml'], {
      input: [
        '{"id":7,"text":"drained 26 L"}',
        '{"id":"2","message":"drained 26 L"}',
        'drained 26 L',
        '{"id":"4","text":"drained 26 L"}',
      ].join('\n'),
    });
    expect(code).toBe(2);
    const said = err.split('\n');
    expect(said).toContain(
      'Line 1 is no message: "id" is a number; text is expected. Write it as "id": "1".',
    );
    expect(said).toContain(
      'Line 2 is no message: "message" is not known here. Did you mean "text"?',
    );
    expect(said).toContain('Line 3 is no message: it is not JSON.');
    const answered = out.trim().split('\n');
    expect(answered).toHaveLength(1);
    expect(JSON.parse(answered[0] ?? '')).toMatchObject({ id: '4' });
  });
});
