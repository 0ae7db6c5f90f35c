// "does code 7QK9X2 fit": a component code against the form the plan gives.
import { codeForm, readCode } from '../../../trade/code-form.ts';
import type { Asked } from '../asking/asked.ts';
import {
  answerOf,
  asks,
  figureKind,
  type Ground,
  means,
  type Read,
  stopped,
} from '../figure-kind.ts';
import { type AskOf, asksIn, fromPlan } from '../plan-figure.ts';

export type CodeFitsInputs = {
  readonly code: string;
  readonly pattern: string;
  readonly alphabet?: string;
  readonly check?: string;
  readonly ofPlan?: string;
};

const CODE = /\bcode\s+(?:is\s+)?([a-z0-9](?:[a-z0-9.-]| (?=[a-z0-9*]))*[a-z0-9*]?)/;
const VERDICT =
  /\s+(?:fits?|ok|okay|right|valid|good|correct|possible|have the (?:right )?form|look right|passt|gültig|richtig|in ordnung)\b.*$/;
const ASKING = /^(?:does|is|will|would|can|check|passt|ist|stimmt)\b/;
const OWN_FORM = /\b(?:form|pattern|muster)\s+([a9xh{}\d'"\s]+?)(?:\s+check\s+(mod[\d\s,/-]+))?$/;

export const codeFits = figureKind<CodeFitsInputs>({
  kind: 'code-fits',
  means: 'whether a component code has the form the plan gives',
  examples: [
    {
      type: 'does code 7QK9X2 fit',
      plan: 'injectors-six-cylinder',
      means: {
        code: '7QK9X2',
        pattern: 'X{6}',
        alphabet: 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789',
        ofPlan: 'trim-code',
      },
    },
    {
      type: 'does code 0794 fit form 9{4} check mod 11-2',
      means: { code: '0794', pattern: '9{4}', check: 'mod 11-2' },
    },
  ],
  read,
  answer: ({ code, pattern, alphabet, check, ofPlan }, { view }) => {
    const form = codeForm({
      pattern,
      ...(alphabet === undefined ? {} : { alphabet }),
      ...(check === undefined ? {} : { check }),
    });
    if (!form.ok) return stopped(form.problem);
    const reply = answerOf(readCode(form.value, code));
    const placed = asksIn(view, ['code']).find(({ ask }) => ask.of === ofPlan);
    return placed && view ? fromPlan(view, placed, reply) : reply;
  },
});

function read(asked: Asked, ground: Ground): Read<CodeFitsInputs> {
  const { plain } = asked;
  if (!asked.question || !ASKING.test(plain)) return undefined;
  const own = OWN_FORM.exec(plain);
  // A rule without a form is a matter of the check character alone.
  if (!own && /\bmod\b/.test(plain)) return undefined;
  const before = (own ? plain.slice(0, own.index).trim() : plain).replace(VERDICT, '');
  const code = CODE.exec(before)?.[1]?.trim();
  const verdict = own !== null || VERDICT.test(plain) || /^(?:check|passt|stimmt)\b/.test(plain);
  if (code === undefined || !verdict || !/\d/.test(code) || code.length < 3) return undefined;
  const typed = code.toUpperCase();
  if (own) {
    return means({
      code: typed,
      pattern: (own[1] ?? '').trim().toUpperCase(),
      ...(own[2] === undefined ? {} : { check: own[2].trim() }),
    });
  }
  const forms = asksIn(ground.view, ['code']).map(({ ask }) => ask);
  const words = (of: string) => of.replaceAll('-', ' ');
  const byName = forms.filter((ask) => plain.includes(words(ask.of)));
  const among = byName.length > 0 ? byName : forms;
  const names = [...new Set(among.map((ask) => ask.of))];
  const [ask] = among;
  if (!ask) {
    return asks(
      `No form is known for that code here. Ask in the thread of the job, or give the form: "does code ${code} fit form 9{6}".`,
    );
  }
  if (names.length > 1) {
    return asks(
      'Which code is it?',
      names.map((of) => ({ label: words(of), text: plain.replace(/\bcode\b/, words(of)) })),
    );
  }
  return means(inputsOf(typed, ask));
}

const inputsOf = (code: string, ask: AskOf<'code'>): CodeFitsInputs => ({
  code,
  pattern: ask.form,
  ...(ask.alphabet === undefined ? {} : { alphabet: ask.alphabet }),
  ...(ask.check === undefined ? {} : { check: ask.check }),
  ofPlan: ask.of,
});
