// What a language brings: data only. Nothing here knows a plan, a component or a maker.

/** Families of work. Verbs of one family mean the same move of the hands. */
export type ActionClass =
  | 'remove'
  | 'fit'
  | 'renew'
  | 'tighten'
  | 'loosen'
  | 'drain'
  | 'fill'
  | 'clean'
  | 'check'
  | 'measure'
  | 'test'
  | 'enter'
  | 'read'
  | 'clear'
  | 'bleed'
  | 'prime'
  | 'connect'
  | 'disconnect'
  | 'isolate'
  | 'chock'
  | 'lift'
  | 'lower'
  | 'support'
  | 'mark'
  | 'cap'
  | 'start'
  | 'stop'
  | 'drive'
  | 'adjust'
  | 'grease'
  | 'press'
  | 'relieve'
  | 'open'
  | 'close'
  | 'cool'
  | 'warm'
  | 'sign'
  | 'photo'
  | 'turn'
  | 'apply'
  | 'release'
  | 'lock'
  | 'unlock'
  | 'count'
  | `own:${string}`;

/** A verb with its forms; forms left out are made by the regular pattern of the language. */
export type VerbRow = {
  readonly base: string;
  readonly classes: readonly ActionClass[];
  readonly past?: readonly string[];
  readonly ing?: readonly string[];
};

/** Signs of stance and of kinds of talk. A rule looks for them by name. */
export type CueName =
  | 'not'
  | 'not-yet'
  | 'no'
  | 'left-to-do'
  | 'still'
  | 'except'
  | 'future'
  | 'later'
  | 'ready'
  | 'next'
  | 'condition'
  | 'wish'
  | 'must'
  | 'doubt'
  | 'nearly'
  | 'starting'
  | 'continuing'
  | 'finished'
  | 'good'
  | 'question-word'
  | 'question-start'
  | 'question-tag'
  | 'somebody'
  | 'says'
  | 'book'
  | 'retract'
  | 'mistake'
  /** Between a slip and what was meant, in one message; and behind what was meant. */
  | 'repair'
  | 'repair-behind'
  | 'meant'
  | 'wait-for'
  | 'cannot'
  | 'out-of-stock'
  | 'resume'
  | 'clock-on'
  | 'clock-off'
  | 'again'
  | 'yes'
  | 'no-answer'
  | 'neither'
  | 'same'
  | 'other-side'
  | 'the-lot'
  | 'defect'
  | 'found'
  | 'needs'
  | 'approx'
  | 'under'
  | 'over'
  | 'between'
  | 'range-to'
  | 'and'
  | 'chatter'
  | 'private'
  | 'harmless-no'
  | 'conjunction'
  | 'person-word'
  | 'wrong-job'
  | 'all'
  | 'both'
  | 'none'
  | 'remark'
  | 'hand-tight'
  | 'other-vehicle'
  | 'than'
  /** Words in which the signs that stand inside do not count: "noch mal" is not "noch". */
  | 'set-phrase';

/** What is said of a work that a title names. */
export type UsualWords = {
  /** The title has a word of each list; "~" stands before the beginning or end of a word. */
  readonly of: readonly (readonly string[])[];
  readonly says: readonly string[];
  /** The title has none of these. */
  readonly not?: readonly string[];
};

/** Words for how a loose part is held. A star stands for any ending. */
export type HeldWords = {
  /** A part that hangs or sticks. */
  readonly held: readonly string[];
  /** It is back where it belongs. */
  readonly back: readonly string[];
  /** In a title: the step is itself a holding. */
  readonly holds: readonly string[];
  /** A title that begins so takes something off or out. */
  readonly loosens: readonly string[];
  /** A title that begins so brings a figure up. */
  readonly builds: readonly string[];
};

export type LanguagePack = {
  readonly code: string;
  /** Words so frequent that they tell which language a message is in. */
  readonly marks: readonly string[];
  readonly verbs: readonly VerbRow[];
  /** A verb with a particle that changes its family: "done up", "backed off". */
  readonly phrasal: Readonly<Record<string, ActionClass | readonly ActionClass[]>>;
  /** Particles that report a move by themselves: "cover off". */
  readonly particles: Readonly<Record<string, readonly ActionClass[]>>;
  /** Particles that are never a preposition: what stands behind them is something new. */
  readonly adverbs?: readonly string[];
  /** States that report a move: "hub full", "nuts tight". */
  readonly states: Readonly<Record<string, readonly ActionClass[]>>;
  readonly cues: Readonly<Partial<Record<CueName, readonly string[]>>>;
  /** How a loose part is held, and which titles loosen, hold or build up. */
  readonly held?: HeldWords;
  /** Phrases by the command they stand for; "*" stands for any one word. */
  readonly commands: Readonly<Record<string, readonly string[]>>;
  /** Questions for a figure of the plan, and for a calculation of the trade. */
  readonly limitPhrases: readonly string[];
  readonly figurePhrases: readonly string[];
  readonly abbreviations: Readonly<Record<string, string>>;
  readonly contractions: Readonly<Record<string, string>>;
  /** Other spellings and dictation's sound-alikes of trade words. */
  readonly soundAlikes: Readonly<Record<string, string>>;
  readonly units: Readonly<Record<string, string>>;
  readonly numbers: Readonly<Record<string, number>>;
  readonly ordinals: Readonly<Record<string, number>>;
  /** Letter words of radio spelling: kilo, alpha. */
  readonly letters: Readonly<Record<string, string>>;
  /** Words that are heard for a number, only where a number must stand. */
  readonly heardNumbers: Readonly<Record<string, number>>;
  /** Words of sides and ends to the word plans use: nearside to left. */
  readonly sides: Readonly<Record<string, readonly string[]>>;
  /** Words before a position number: cylinder, axle, number. */
  readonly positionNouns: readonly string[];
  readonly stageNouns: readonly string[];
  /** Words that carry no meaning for the match of a step. */
  readonly stop: readonly string[];
  /** Words that turn a report into none. A slip near one of them is taken for it: the error on the safe side. */
  readonly turning?: readonly string[];
  /** Words that join places or denials, or head a text passed on: a slip of one shares what was not shared. */
  readonly joining?: readonly string[];
  /** Words one slip from "not" that are words themselves: before what was done they deny it. */
  readonly mayDeny?: readonly string[];
  /** Ordinary words that are never taken for a slip of a trade word. */
  readonly common: readonly string[];
  /** Words of everyday speech beyond these: in doubt they are meant as they are written. */
  readonly ordinary?: readonly string[];
  readonly prepositions: readonly string[];
  readonly auxiliaries: readonly string[];
  readonly pronouns: readonly string[];
  readonly persons: readonly string[];
  readonly times: {
    readonly at: readonly string[];
    readonly ago: readonly string[];
    readonly half: readonly string[];
    readonly quarter: readonly string[];
    readonly past: readonly string[];
    readonly to: readonly string[];
    readonly yesterday: readonly string[];
    readonly before: readonly string[];
    readonly moments: Readonly<Record<string, string>>;
  };
  /** What any workshop says of a work, by the words of its title. */
  readonly usual?: readonly UsualWords[];
  /** Names for one thing, a row each: a word is read as the one that the open plan has. */
  readonly sameThing?: readonly (readonly string[])[];
  /** Places where parts are laid that came off, by the preposition before them. */
  readonly laid?: Readonly<Record<string, readonly string[]>>;
  /** Plural endings, longest first, with what replaces them. */
  readonly plurals: readonly (readonly [ending: string, instead: string])[];
  /** The form by which nouns are compared, where endings alone do not make it. */
  readonly root?: (word: string) => string;
  /** Nouns of which compounds are made; a word that is made of them alone is read as these words. */
  readonly nouns?: readonly string[];
  /** The verb stands last: "Pumpe ausbauen" is an order, "baue die Pumpe aus" is one verb. */
  readonly verbLast?: boolean;
  /** A number below two thousand is one word: "drei neunzig" are two numbers. */
  readonly wholeNumbers?: boolean;
  /** Every noun has a capital letter, so a capital says nothing about a name. */
  readonly nounCapitals?: boolean;
  readonly forms: (base: string) => { past: string[]; ing: string[]; third: string[] };
};
