import { describe, expect, it } from 'vitest';
import { JobEvent, type StoredEvent } from '../../shared/event.ts';
import { canonical, noPeople, peopleOf, sealEvent, verifyChain } from '../../src/store/chain.ts';
import { withoutPerson, withoutTexts } from '../../src/store/chain-removal.ts';
import { leavesOf } from '../../src/store/event-leaves.ts';
import { at, jobOpened, posted } from './sample.ts';

const SALTS = ['00112233445566778899aabbccddeeff', 'ffeeddccbbaa99887766554433221100'];

function chainOf(events: readonly JobEvent[]): readonly StoredEvent[] {
  const people = noPeople();
  const stored: StoredEvent[] = [];
  for (const [i, event] of events.entries()) {
    const salt = SALTS[i] ?? String(i).padStart(32, 'a');
    stored.push(sealEvent(stored.at(-1)?.hash, event, salt, people));
  }
  return stored;
}

const handedOver: JobEvent = {
  id: 'h1',
  at: at(60),
  by: 'Sam',
  kind: 'handed-over',
  to: 'Jo',
  says: 'all yours, Jo',
};
const morning = (): readonly StoredEvent[] =>
  chainOf([
    jobOpened('1042'),
    posted(1, 'fuel lines off'),
    handedOver,
    posted(2, 'lines on', 'Kim'),
  ]);

describe('the chain of a job', () => {
  // Worked out with Python's hashlib from the description in chain.ts: SHA-256 over the hash before and the event as
  // JSON with sorted names; a leaf is SHA-256 over the first 32 digits of SHA-256("salt:path"), ":" and its JSON.
  it('has the hashes that another program works out from the description', () => {
    const stored = chainOf([
      {
        id: 'e1',
        at: '2031-05-06T06:30:00Z',
        by: 'Jo',
        kind: 'message-posted',
        message: 'm1',
        channel: 'bench',
        text: 'drained 28 L',
      },
      {
        id: 'e2',
        at: '2031-05-06T06:31:00Z',
        by: 'Sam',
        kind: 'handed-over',
        to: 'Jo',
        says: 'all yours',
      },
    ]);
    expect(stored[0]?.textHash).toBe(
      '1fa587cce6a4b8dba0dd40ae751fa93eb536bff1ed0f0340a7e5f5b4a66e3f1b',
    );
    expect(stored.map((s) => s.hash)).toEqual([
      '84fb7bf3cb14211c3a9f7112803b2692e6ca4502ba85c4a4cfef1e23469b992f',
      'a2e4b0494bafda4b81a60ca1c635a4365f844a4300e9fef00a2a8e38ee31f490',
    ]);
  });

  it('is the same whatever the order of an event’s members', () => {
    expect(canonical({ b: [1, { d: 'x', c: null }], a: undefined })).toBe(
      '{"b":[1,{"c":null,"d":"x"}]}',
    );
  });

  it('verifies, and says its end', () => {
    const stored = morning();
    expect(verifyChain(stored)).toEqual({ good: true, end: stored[3]?.hash, removed: 0 });
    expect(verifyChain([])).toMatchObject({ good: true, removed: 0 });
  });

  it('verifies after a way through JSON', () => {
    expect(verifyChain(JSON.parse(JSON.stringify(morning())))).toMatchObject({ good: true });
  });

  const edit = (
    at: number,
    change: (stored: StoredEvent) => StoredEvent,
  ): readonly StoredEvent[] => {
    const stored = [...morning()];
    const old = stored[at];
    if (old !== undefined) stored[at] = change(old);
    return stored;
  };
  const withEvent = (stored: StoredEvent, over: object): StoredEvent => ({
    ...stored,
    event: { ...stored.event, ...over } as JobEvent,
  });

  it.each<[string, number, (stored: StoredEvent) => StoredEvent]>([
    ['a text', 1, (s) => withEvent(s, { text: 'fuel lines on' })],
    ['a text that is not the message', 2, (s) => withEvent(s, { says: 'all mine' })],
    ['a name', 1, (s) => withEvent(s, { by: 'Sam' })],
    ['a time', 1, (s) => withEvent(s, { at: at(99) })],
    ['a fact', 0, (s) => withEvent(s, { options: ['retarder'] })],
    ['a fact that was added', 0, (s) => withEvent(s, { promised: at(9) })],
    ['a kind', 1, (s) => withEvent(s, { kind: 'message-edited' })],
    ['a salt', 1, (s) => ({ ...s, salt: 'b'.repeat(32) })],
    ['a hash of a text', 1, (s) => ({ ...s, textHash: 'b'.repeat(64) })],
    ['a hash', 1, (s) => ({ ...s, hash: 'b'.repeat(64) })],
  ])('is broken where %s was changed', (_what, place, change) => {
    expect(verifyChain(edit(place, change))).toMatchObject({ good: false, at: place });
  });

  it('is broken where an event was taken out, put in, or moved', () => {
    const [a, b, c, d] = morning();
    if (a === undefined || b === undefined || c === undefined || d === undefined) return;
    expect(verifyChain([a, c, d])).toMatchObject({ good: false, at: 1 });
    expect(verifyChain([b, c, d])).toMatchObject({ good: false, at: 0 });
    expect(verifyChain([a, b, b, c, d])).toMatchObject({ good: false, at: 2 });
    expect(verifyChain([a, c, b, d])).toMatchObject({ good: false, at: 1 });
  });

  it('has another end where the last event was cut off', () => {
    const stored = morning();
    const cut = verifyChain(stored.slice(0, -1));
    expect(cut.good && cut.end).not.toBe(stored.at(-1)?.hash);
  });
});

describe('removing words', () => {
  const isText = (_event: JobEvent, path: string): boolean => path === 'text';

  it('removes the text of messages; the chain verifies to the same end', () => {
    const stored = morning();
    const less = withoutTexts(stored, isText);
    expect(less.flatMap((s) => (s.event.kind === 'message-posted' ? [s.event.text] : []))).toEqual([
      null,
      null,
    ]);
    expect(verifyChain(less)).toEqual({ good: true, end: stored.at(-1)?.hash, removed: 2 });
    for (const s of less) expect(() => JobEvent.parse(s.event)).not.toThrow();
    expect(JSON.stringify(less)).not.toContain('fuel lines off');
  });

  it('gives back the very same events where nothing was picked', () => {
    const stored = morning();
    expect(withoutTexts(stored, () => false)).toEqual(stored);
    expect(withoutTexts(stored, () => false)[0]).toBe(stored[0]);
  });

  it('can be done again and again', () => {
    const stored = morning();
    const once = withoutTexts(stored, isText);
    const twice = withoutTexts(once, (_e, path) => path === 'says' || path === 'complaint');
    expect(withoutTexts(twice, isText)).toEqual(twice);
    expect(verifyChain(twice)).toEqual({ good: true, end: stored.at(-1)?.hash, removed: 4 });
  });

  it('does not let another text stand where one was removed', () => {
    const less = withoutTexts(morning(), isText).map((s) =>
      s.event.kind === 'message-posted' ? { ...s, event: { ...s.event, text: 'all tight' } } : s,
    );
    expect(verifyChain(less)).toMatchObject({ good: false, at: 1 });
  });

  it('does not let a text be marked as removed under a hash of another', () => {
    const stored = morning();
    const less = withoutTexts(stored, isText);
    const forged = less.map((s, i) =>
      i === 1 ? { ...s, salt: s.salt.replace(/text=h:[0-9a-f]{8}/, 'text=h:00000000') } : s,
    );
    expect(verifyChain(forged)).toMatchObject({ good: false, at: 1 });
  });

  it('leaves no salt with which the removed word could be found out by trying', () => {
    const stored = morning();
    const [, less] = withoutTexts(stored, isText);
    expect(less?.salt).not.toContain(SALTS[1]);
    expect(less?.salt).toMatch(/^by=s:[0-9a-f]{32};text=h:[0-9a-f]{64}$/);
  });
});

describe('removing a person', () => {
  it('the name becomes a number; who is who stays told apart, and the chain verifies to the same end', () => {
    const stored = morning();
    const less = withoutPerson(stored, 'Jo');
    expect(less.map((s) => s.event.by)).toEqual(['Sam', 'removed person 2', 'Sam', 'Kim']);
    const first = less[0]?.event;
    expect(first?.kind === 'job-opened' && [first.technician, first.controller]).toEqual([
      'removed person 2',
      'Sam',
    ]);
    const third = less[2]?.event;
    expect(third?.kind === 'handed-over' && third.to).toBe('removed person 2');
    expect(verifyChain(less)).toEqual({ good: true, end: stored.at(-1)?.hash, removed: 3 });
  });

  it('two removed persons cannot be taken for each other', () => {
    const both = withoutPerson(withoutPerson(morning(), 'Jo'), 'Sam');
    expect(verifyChain(both)).toMatchObject({ good: true });
    const swapped = both.map((s) =>
      s.event.by === 'removed person 2'
        ? { ...s, event: { ...s.event, by: 'removed person 1' } }
        : s,
    );
    expect(verifyChain(swapped)).toMatchObject({ good: false, at: 1 });
  });

  it('a name cannot be put back under the mark of a removed one', () => {
    const forged = withoutPerson(morning(), 'Jo').map((s) =>
      s.event.by === 'removed person 2' ? { ...s, event: { ...s.event, by: 'Kim' } } : s,
    );
    expect(verifyChain(forged)).toMatchObject({ good: false, at: 1 });
  });

  it('the job can go on, also with the same person', () => {
    const less = [...withoutPerson(morning(), 'Jo')];
    const people = peopleOf(less);
    for (const [i, by] of ['Kim', 'Jo', 'Lee'].entries()) {
      less.push(sealEvent(less.at(-1)?.hash, posted(10 + i, 'x', by), 'c'.repeat(32), people));
    }
    expect(verifyChain(less)).toMatchObject({ good: true });
    expect(verifyChain(withoutPerson(less, 'Jo'))).toMatchObject({ good: true });
  });

  it('does not change a job that does not name the person', () => {
    const stored = morning();
    expect(withoutPerson(stored, 'Alex')).toBe(stored);
  });

  it('is told apart from somebody who is really called so', () => {
    const stored = chainOf([posted(1, 'x', 'removed person 7'), posted(2, 'y', 'Jo')]);
    expect(verifyChain(stored)).toMatchObject({ good: true });
    expect(verifyChain(withoutPerson(stored, 'removed person 7'))).toMatchObject({ good: true });
    expect(verifyChain(withoutPerson(stored, 'Jo'))).toMatchObject({ good: true });
  });
});

describe('the words and names of an event', () => {
  const act = {
    kind: 'finding' as const,
    positions: [],
    by: 'Kim',
    note: 'hose chafed',
    was: 'Jo',
    assumed: ['person: Kim'],
    candidates: [{ says: 'Kim did it' }],
    span: [0, 4] as [number, number],
  };
  it('are found in acts, choices and candidates', () => {
    const event: JobEvent = {
      id: 'q',
      at: at(1),
      by: 'chargehand',
      kind: 'question-asked',
      question: 'q1',
      message: 'm1',
      asks: 'Which one?',
      about: 'reading',
      choices: [{ says: 'this', acts: [act], value: 'x' }, { says: 'that' }],
    };
    expect(
      leavesOf(event)
        .map((leaf) => `${leaf.kind} ${leaf.path}`)
        .sort(),
    ).toEqual([
      'name by',
      'name choices.0.acts.0.by',
      'text asks',
      'text choices.0.acts.0.assumed.0',
      'text choices.0.acts.0.candidates.0.says',
      'text choices.0.acts.0.note',
      'text choices.0.acts.0.was',
      'text choices.0.says',
      'text choices.0.value',
      'text choices.1.says',
    ]);
  });

  it('a job that a message moved to is no name', () => {
    const event: JobEvent = {
      id: 'm',
      at: at(1),
      by: 'Sam',
      kind: 'message-moved',
      message: 'm1',
      from: '1042',
      to: '1043',
    };
    expect(leavesOf(event).map((leaf) => leaf.path)).toEqual(['by']);
  });

  // A new free-text or name member of an event has to be listed in event-leaves.ts, or it could not be removed.
  it('every member of every event is known as a word, a name or a fact', () => {
    const FACTS = new Set(
      `id at kind job message channel role typed revision pass relied name type bytes sha256 question about
       choice flag level step position settled positions options promised plan changes from phase reading vehicle
       acts choices how wait shift`.split(/\s+/),
    );
    const unknown: string[] = [];
    for (const form of JobEvent.options) {
      const kinds = form.shape.kind.def;
      const names = 'entries' in kinds ? Object.values(kinds.entries) : kinds.values;
      for (const kind of names) {
        for (const member of Object.keys(form.shape)) {
          const probe = { kind, [member]: 'probe' } as unknown as JobEvent;
          const isLeaf = leavesOf(probe).some((leaf) => leaf.path === member);
          const isJob = kind === 'message-moved' && member === 'to';
          if (!isLeaf && !FACTS.has(member) && !isJob) unknown.push(`${kind}.${member}`);
        }
      }
    }
    expect(unknown).toEqual([]);
  });
});
