// A card of several flags: each sentence bears the number of its buttons, and the form says which flag it is for.
import { describe, expect, it } from 'vitest';
import type { Flag } from '../../../shared/flag.ts';
import { flagsCard } from '../../../src/desk/cards/flag-card.ts';
import { deskJob } from '../desk-job.ts';

const { view } = deskJob().state();

const flag = (step: string, says: string, level: Flag['level'] = 'stop'): Flag => ({
  rule: 'skipped',
  level,
  step,
  position: null,
  part: null,
  says,
  raisedBy: ['m1'],
});

describe('flagsCard', () => {
  const chock = flag('chock', 'Skipped: "Chock the wheels". Report it now.');
  const jack = flag('jack-up', 'Skipped: "Jack it up". Report it now.');

  it('numbers sentences and buttons alike', () => {
    const card = flagsCard(view, [chock, jack], []);
    expect(card?.blocks.slice(0, 2)).toEqual([
      { kind: 'text', text: `1. ${chock.says}` },
      { kind: 'text', text: `2. ${jack.says}` },
    ]);
    expect(card?.actions?.map(({ label }) => label)).toEqual([
      'I have seen it 1',
      'Override 1',
      'I have seen it 2',
      'Override 2',
    ]);
    expect(card?.text).toContain(`2. STOP. ${jack.says}`);
  });

  it('says in the form which flag is overridden', () => {
    const forms = flagsCard(view, [chock, jack], [])?.actions?.flatMap(({ form }) => form ?? []);
    expect(forms?.map(({ fields }) => fields[0]?.hint)).toEqual([
      'For: Skipped: "Chock the wheels". Kept in the record with your name.',
      'For: Skipped: "Jack it up". Kept in the record with your name.',
    ]);
    expect(forms?.[0]?.title).toBe('Override on job 1042');
  });

  it('leaves one flag alone without a number', () => {
    const card = flagsCard(view, [chock], []);
    expect(card?.blocks[0]).toEqual({ kind: 'text', text: chock.says });
    expect(card?.actions?.map(({ label }) => label)).toEqual(['I have seen it', 'Override']);
  });
});
