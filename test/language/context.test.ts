// What a reading may know beside the text: with nothing of it used, the text reads the same; where it is used, it says so.
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { contextOf, lexiconOf, readLabels, readPlans } from '../corpus/score.ts';
import { lexiconFor } from './plans.ts';

const plans = readPlans();
/** Every seventh message that is not held out, each before and behind another one. */
const labels = readLabels().filter(
  (label, at) => !label.heldout && plans.has(label.plan) && at % 7 === 2,
);

describe('what came before', () => {
  it('changes a reading only where the reading says that it relied on it', () => {
    const silent: string[] = [];
    for (const [at, label] of labels.entries()) {
      const plan = plans.get(label.plan);
      const other = labels[(at + 31) % labels.length];
      if (!plan || !other) continue;
      const lexicon = lexiconOf(plan);
      const { previous: _, ...bare } = contextOf(label);
      const alone = readMessage(label.text, lexicon, bare);
      const behind = readMessage(label.text, lexicon, {
        ...bare,
        previous: [{ id: 'before', from: 'person', text: other.text }],
      });
      if (JSON.stringify(behind.acts) === JSON.stringify(alone.acts)) continue;
      if (behind.relied.length === 0 && !behind.acts.some((act) => act.assumed.length > 0))
        silent.push(`${label.text} <- ${other.text}`);
    }
    expect(silent).toEqual([]);
  });

  it('leaves the lexicon as it was: read again, a message says the same', () => {
    const lexicon = lexiconFor('injectors');
    const first = readMessage('clamps torqued on cyl 3', lexicon, {});
    for (const label of labels.slice(0, 60)) readMessage(label.text, lexicon, contextOf(label));
    expect(readMessage('clamps torqued on cyl 3', lexicon, {})).toEqual(first);
  });
});

describe('the vehicle of the job', () => {
  const kinds = (text: string, vehicle?: string) =>
    readMessage(text, lexiconFor('coolant'), vehicle === undefined ? {} : { vehicle }).acts.map(
      (act) => act.kind,
    );

  it('is no other vehicle', () => {
    expect(kinds('bus 12 pressure tested 1.2 bar', 'bus 12')).toEqual(['done']);
    expect(kinds('bus 12 pressure tested 1.2 bar', '12')).toEqual(['done']);
  });

  it('is told from another one, which is asked about', () => {
    expect(kinds('bus 12 pressure tested 1.2 bar', 'bus 14')).toEqual(['unsure']);
    expect(kinds('bus 12 pressure tested 1.2 bar')).toEqual(['unsure']);
  });
});
