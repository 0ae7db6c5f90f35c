// What the stand-in refuses: sizes, elements and properties that Adaptive Cards 1.5 does not know, buttons without an end.

type Json = Readonly<Record<string, unknown>>;

const ELEMENTS = new Set([
  'TextBlock',
  'RichTextBlock',
  'Container',
  'Image',
  'Input.Text',
  'Input.Date',
  'Input.Time',
  'Input.ChoiceSet',
]);
const ACTIONS = new Set(['Action.Execute', 'Action.Submit', 'Action.ShowCard', 'Action.OpenUrl']);
const MOST_BYTES = 28_000;

const list = (value: unknown): readonly Json[] => (Array.isArray(value) ? (value as Json[]) : []);

const inCard = (card: Json, inside: boolean): readonly string[] => {
  const found: string[] = [];
  if (card.type !== 'AdaptiveCard') found.push('The content is no AdaptiveCard.');
  if (!inside && card.version !== '1.5') found.push('The card names no version 1.5.');
  const names = new Set<string>();
  const look = (element: Json): void => {
    const type = String(element.type);
    if (!ELEMENTS.has(type)) found.push(`There is no element ${type}.`);
    if (type.startsWith('Input.')) {
      const id = String(element.id ?? '');
      if (id === '' || names.has(id)) found.push(`The input "${id}" has no name of its own.`);
      names.add(id);
    }
    if (type === 'RichTextBlock')
      for (const inline of list(element.inlines))
        if (inline.type !== 'TextRun' || typeof inline.text !== 'string' || inline.text === '')
          found.push('A run of text is empty.');
    if (type === 'TextBlock' && !/^For (?:<at>[^<>]+<\/at>(?:, )?)+$/u.test(String(element.text)))
      found.push(`Markup that is read stands in a card: ${String(element.text).slice(0, 80)}`);
    if (type === 'Image') {
      const url = String(element.url);
      if (!url.startsWith('data:image/png;base64,') && !url.startsWith('https://'))
        found.push('An image is not to be had.');
      if (typeof element.altText !== 'string' || element.altText === '')
        found.push('An image says nothing in words.');
    }
    for (const item of list(element.items)) look(item);
  };
  for (const element of list(card.body)) look(element);
  for (const action of list(card.actions)) {
    const type = String(action.type);
    if (!ACTIONS.has(type)) found.push(`There is no action ${type}.`);
    if (typeof action.title !== 'string' || action.title === '')
      found.push('A button has no words.');
    if (type === 'Action.OpenUrl' && !String(action.url).startsWith('https://'))
      found.push('A link leads nowhere.');
    if (type === 'Action.ShowCard') found.push(...inCard(action.card as Json, true));
  }
  return found;
};

/** @returns what is wrong with a message as the app sends it, one sentence each */
export const complaintsAbout = (activity: Json): readonly string[] => {
  const found: string[] = [];
  if (activity.type !== 'message') found.push(`The type is ${String(activity.type)}.`);
  if (Buffer.byteLength(JSON.stringify(activity)) > MOST_BYTES) found.push('It is too large.');
  if (typeof activity.summary !== 'string' || activity.summary === '')
    found.push('A notification would be empty.');
  const [attachment] = list(activity.attachments);
  if (attachment?.contentType !== 'application/vnd.microsoft.card.adaptive')
    found.push('It holds no card.');
  else {
    const card = attachment.content as Json;
    found.push(...inCard(card, false));
    const entities = list((card.msteams as Json | undefined)?.entities);
    const text = JSON.stringify(card.body);
    for (const entity of entities)
      if (!text.includes(String(entity.text)))
        found.push('A mention stands for nothing in the card.');
    if (/<at>/u.test(text) && entities.length === 0) found.push('A mention stands for nobody.');
  }
  return found;
};
