// "what order for 10 wheel nuts": which fastener after which, with a picture.
import { type Pattern, tighteningOrder } from '../../../trade/tightening/order.ts';
import { orderInWords, orderPicture } from '../../../trade/tightening/order-picture.ts';
import type { Asked } from '../asking/asked.ts';
import { asks, figureKind, type Ground, means, type Read, stopped } from '../figure-kind.ts';
import { asksIn, fromPlan, isLabel, named } from '../plan-figure.ts';

export type OrderInputs = {
  readonly pattern: Pattern | 'in-order';
  readonly fasteners: number;
  readonly loosening?: true;
  /** The step and fasteners of the plan it was taken from. */
  readonly from?: { readonly step: string; readonly of: string };
};

const ORDER = /\b(?:order|sequence|pattern|reihenfolge|anzugsfolge|schema)\b/;
const FASTENERS =
  /\b(?:bolts?|nuts?|studs?|screws?|fasteners?|fixings?|unions?)\b|\p{L}*(?:schrauben?|muttern?|bolzen)(?!\p{L})/u;
const TIGHT =
  /\b(?:tighten\w*|torque|torqueing|loosen\w*|slacken\w*|undo\w*|anzieh\w*|anzug\w*|lösen)\b/;
/** "Order 10 nuts" to the stores is no question for a sequence. */
const PURCHASE =
  /\b(?:ordered|on order|to order|an order|in an order|order in|stores|parts|placed|waiting|need)\b/;
const PATTERNS: readonly (readonly [RegExp, Pattern])[] = [
  [/\b(?:star|criss[ -]?cross|cross|stern)\b|kreuz/, 'star'],
  [
    /\b(?:opposite|opposed|ring|round|circle|wheel|hub|flange|rim|rad\p{L}*|gegenüber\p{L}*)(?!\p{L})/u,
    'opposite',
  ],
  [
    /\b(?:centre|center|middle|two rows|2 rows|outwards?|inside out)\b|(?:innen|mitte)/,
    'centre-outwards',
  ],
];

export const fastenerOrder = figureKind<OrderInputs>({
  kind: 'fastener-order',
  means: 'the order of the fasteners, as a picture',
  examples: [
    { type: 'what order for 10 wheel nuts', means: { pattern: 'opposite', fasteners: 10 } },
    { type: 'tightening order 5 wheel nuts', means: { pattern: 'star', fasteners: 5 } },
    {
      type: 'tightening sequence for 14 bolts from the centre outwards',
      means: { pattern: 'centre-outwards', fasteners: 14 },
    },
    {
      type: 'loosening order 8 bolts in two rows',
      means: { pattern: 'centre-outwards', fasteners: 8, loosening: true },
    },
    {
      type: 'what order for the wheel nuts',
      plan: 'hub-bearing',
      means: {
        pattern: 'opposite',
        fasteners: 10,
        from: { step: 'tighten-wheel-nuts', of: 'wheel nuts' },
      },
    },
  ],
  read,
  answer: ({ pattern, fasteners, loosening, from }, { view }) => {
    if (pattern === 'in-order') {
      const says = `1 to ${fasteners} in turn (${fasteners} fasteners).`;
      const placed = view && from && planned(view, from);
      return placed && view ? fromPlan(view, placed, { says }) : { says };
    }
    const order = tighteningOrder({ pattern, fasteners, loosening: loosening === true });
    if (!order.ok) return stopped(order.problem);
    const reply = {
      says: order.value.answer,
      picture: { svg: orderPicture(order.value), alt: orderInWords(order.value) },
    };
    const placed = view && from && planned(view, from);
    return placed && view ? fromPlan(view, placed, reply) : reply;
  },
});

const planned = (view: NonNullable<Ground['view']>, from: { step: string; of: string }) =>
  asksIn(view, ['tightening', 'loosening']).find(
    ({ step, ask }) => step.id === from.step && ask.of === from.of,
  );

function read(asked: Asked, ground: Ground): Read<OrderInputs> {
  const { plain } = asked;
  if (!ORDER.test(plain) || PURCHASE.test(plain)) return undefined;
  const pattern = PATTERNS.find(([words]) => words.test(plain))?.[1];
  const tight = TIGHT.test(plain);
  if (!asked.question && !tight && !(pattern && /^order\b/.test(plain))) return undefined;
  if (asked.reports && !asked.question) return undefined;
  const said = asked.figures.find(
    (figure) => figure.unit === undefined && !isLabel(asked, figure.from),
  );
  const loosening = /\b(?:loosen|slacken|undo|lösen)/.test(plain)
    ? { loosening: true as const }
    : {};
  if (!said) {
    const among = asksIn(ground.view, ['loosening' in loosening ? 'loosening' : 'tightening']);
    const [placed] = named(ground.view, plain, among);
    if (!placed || !(tight || FASTENERS.test(plain))) return undefined;
    const { step, ask } = placed;
    if (ask.fasteners === undefined || ask.pattern === undefined) {
      return asks(
        `The plan gives no order for "${step.title}". Ask with the number and the pattern: "order for 10 nuts in a ring".`,
      );
    }
    return means({
      pattern: ask.pattern,
      fasteners: ask.fasteners,
      ...loosening,
      from: { step: step.id, of: ask.of },
    });
  }
  if (!FASTENERS.test(plain) && !pattern && !tight) return undefined;
  // Nine in a ring have none across from each other: a ring of an odd number is a star.
  const meant = pattern === 'opposite' && said.value % 2 === 1 ? 'star' : pattern;
  const odd = meant ?? (said.value % 2 === 1 ? 'star' : undefined);
  if (odd === undefined) {
    return asks(`How do the ${said.value} sit?`, [
      { label: 'In a ring, one across from another', text: `${plain} tightening in a ring` },
      { label: 'In two rows, from the centre outwards', text: `${plain} tightening in two rows` },
    ]);
  }
  return means({ pattern: odd, fasteners: said.value, ...loosening });
}
