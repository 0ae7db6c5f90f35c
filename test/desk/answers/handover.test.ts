// The handover in sentences: vehicle state first, one full stop at a time, where the removed parts are.
import { describe, expect, it } from 'vitest';
import { handoverCard } from '../../../src/desk/answers/handover.ts';
import { isPlaceOnly, partsOff, placeSaid } from '../../../src/desk/answers/parts-off.ts';
import { at, deskJob, done, PEOPLE, planFrom, texts } from '../desk-job.ts';
import { planText } from '../figures/sample-view.ts';

const pump = planFrom(planText('coolant-pump'));
const job = () => deskJob({ plan: pump, opening: { positions: [] } as never });

describe('where the removed parts are', () => {
  it.each([
    ['pump off, on the bench in the blue tray', 'on the bench in the blue tray'],
    ['cowl removed, in tray 3', 'in tray 3'],
    ['caliper off and hung up', 'hung up'],
    ['box out, strapped to the pallet by bay 4', 'by bay 4'],
    ['injectors out, in a clean box on the shelf', 'in a clean box on the shelf'],
    ['Pumpe ab, liegt auf der Werkbank', 'auf der Werkbank'],
    ['pump off', undefined],
    ['belt off at 9', undefined],
  ])('%s: %s', (text, place) => {
    expect(placeSaid(text)).toBe(place);
  });

  it.each([
    ['in tray 3', true],
    ["it's on the bench", true],
    [', on the parts shelf.', true],
    ['pump on the bench', false],
    ['fan cowl fitted', false],
  ])('"%s" is a place and nothing else: %s', (text, alone) => {
    expect(isPlaceOnly(text)).toBe(alone);
  });

  it('names what came off with its place, and nothing that is back on', () => {
    const made = job();
    made.say('Ada', 'cowl off, on the bench', '07:00', [done('remove-fan-cowl')]);
    made.say('Ada', 'pump off', '07:30', [done('remove-pump')]);
    const off = (): readonly string[] => partsOff(made.state().view, made.state().events);
    expect(off()).toContain('fan cowl: on the bench');
    expect(off()).toContain('coolant pump: place not said');
    made.say('Ada', 'cowl back on', '09:00', [done('refit-fan-cowl')]);
    expect(off().join()).not.toContain('fan cowl');
  });
});

describe('the sentences', () => {
  const made = job();
  made.say('Ada', 'cold', '07:00', [done('let-cool', { quantity: { value: 60, unit: 'Cel' } })]);
  made.say('Ada', 'cap off', '07:10', [done('open-cap')]);
  made.say('Ada', 'what is this', '07:20', [
    {
      kind: 'unsure',
      positions: [],
      assumed: [],
      span: [0, 12],
      candidates: [{ says: 'Drain', step: 'drain-coolant' }],
    },
  ]);
  const card = handoverCard(made.state().view, at('14:00'), PEOPLE.zone, {
    events: made.state().events,
  });

  it('begins with the state of the vehicle, a hot engine among it', () => {
    expect(card.text).toMatch(
      /^Handover, job 1042, bus 17, 14:00\. Vehicle now: not safe yet, "Let the engine cool down": 60 °C reported, at most 45 °C expected\./,
    );
    expect(card.blocks[0]).toMatchObject({ kind: 'text' });
  });

  it('puts no full stop behind a full stop or a question mark, and chains no flags by "and"', () => {
    expect(card.text).not.toMatch(/[.?]\./u);
    expect(card.text).not.toMatch(/reason\.,|\. and [A-Z]/u);
    expect(card.text).toContain('Flags open: ');
  });

  it('does not call done what stands outside its limits, nor offer what rests on it', () => {
    expect(card.text).toContain('Put right first: "Let the engine cool down"');
    expect(card.text).not.toContain('Next: Drain the coolant');
  });

  it('is taken with a tap, and the record keeps who took what', () => {
    const take = card.actions?.[0]?.intent;
    if (!take) throw new Error('There is no button.');
    made.tap('Mo', take, '14:02');
    const event = made.state().events.find(({ kind }) => kind === 'handed-over');
    expect(event).toMatchObject({ by: 'Mo', to: 'Mo' });
    expect(event && 'says' in event ? event.says : '').toContain('Put right first');
    expect(made.state().view.technician).toBe('Mo');
  });
});

describe('where are we', () => {
  it('shows hours to those who may see them only', () => {
    const booked = job();
    booked.say('Ada', '2 h on it', '07:00');
    const asked = (who: string): string => texts(booked.say(who, 'where are we', '08:00')).join();
    expect(asked('Robin')).toContain('Booked: 2 h.');
    expect(asked('Ada')).not.toContain('Booked');
  });
});
