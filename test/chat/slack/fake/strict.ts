// Looks at everything the app sends as strictly as the platform's pages say, and at what they do not say but is refused.
// Written from docs.slack.dev (reference/block-kit, reference/methods), apart from the limits in the program.

type Json = Readonly<Record<string, unknown>>;

const isJson = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const length = (value: unknown): number => (typeof value === 'string' ? value.length : 0);

type Complain = (what: string) => void;

const textObject = (value: unknown, most: number, where: string, complain: Complain): void => {
  if (!isJson(value)) {
    complain(`${where}: no text object`);
    return;
  }
  if (value.type !== 'plain_text' && value.type !== 'mrkdwn')
    complain(`${where}: text of type ${String(value.type)}`);
  const size = length(value.text);
  if (size < 1 || size > most) complain(`${where}: text of ${size}, 1 to ${most} are taken`);
  if (value.type === 'mrkdwn' && 'emoji' in value) complain(`${where}: emoji beside mrkdwn`);
};

const plainOnly = (value: unknown, most: number, where: string, complain: Complain): void => {
  textObject(value, most, where, complain);
  if (isJson(value) && value.type !== 'plain_text') complain(`${where}: only plain_text is taken`);
};

const options = (value: unknown, where: string, complain: Complain): void => {
  const all = list(value);
  if (all.length < 1 || all.length > 100) complain(`${where}: ${all.length} options`);
  for (const option of all) {
    if (!isJson(option)) complain(`${where}: no option`);
    else {
      textObject(option.text, 75, `${where}.option`, complain);
      if (length(option.value) < 1 || length(option.value) > 150)
        complain(`${where}: option value of ${length(option.value)}`);
    }
  }
};

const element = (value: unknown, where: string, complain: Complain): void => {
  if (!isJson(value)) {
    complain(`${where}: no element`);
    return;
  }
  if (length(value.action_id) > 255) complain(`${where}: action_id too long`);
  switch (value.type) {
    case 'button':
      plainOnly(value.text, 75, `${where}.button`, complain);
      if (length(value.value) > 2000) complain(`${where}: button value of ${length(value.value)}`);
      if (value.style !== undefined && value.style !== 'primary' && value.style !== 'danger')
        complain(`${where}: style ${String(value.style)}`);
      if (isJson(value.confirm)) {
        plainOnly(value.confirm.title, 100, `${where}.confirm.title`, complain);
        textObject(value.confirm.text, 300, `${where}.confirm.text`, complain);
        plainOnly(value.confirm.confirm, 30, `${where}.confirm.confirm`, complain);
        plainOnly(value.confirm.deny, 30, `${where}.confirm.deny`, complain);
      }
      return;
    case 'static_select':
    case 'multi_static_select':
      if (value.option_groups !== undefined) {
        const groups = list(value.option_groups);
        if (groups.length < 1 || groups.length > 100) complain(`${where}: ${groups.length} groups`);
        for (const group of groups) {
          plainOnly((group as Json).label, 75, `${where}.group`, complain);
          options((group as Json).options, where, complain);
        }
      } else options(value.options, where, complain);
      return;
    case 'plain_text_input':
      if (typeof value.max_length === 'number' && value.max_length > 3000)
        complain(`${where}: max_length ${value.max_length}`);
      if (length(value.initial_value) > 3000) complain(`${where}: initial value too long`);
      return;
    case 'number_input':
      if (typeof value.is_decimal_allowed !== 'boolean')
        complain(`${where}: is_decimal_allowed is required`);
      return;
    case 'datetimepicker':
      if (
        value.initial_date_time !== undefined &&
        !/^\d{10}$/u.test(String(value.initial_date_time))
      )
        complain(`${where}: initial_date_time has 10 digits`);
      return;
    default:
      complain(`${where}: element ${String(value.type)} is not known here`);
  }
};

const richTexts = (value: unknown, where: string, complain: Complain): void => {
  if (!isJson(value)) {
    complain(`${where}: no rich text`);
    return;
  }
  if (value.type === 'text') {
    if (length(value.text) < 1) complain(`${where}: empty text`);
    return;
  }
  if (!/^rich_text(?:_section|_list|_quote|_preformatted)?$/u.test(String(value.type))) {
    complain(`${where}: ${String(value.type)} is not known here`);
    return;
  }
  if (value.type === 'rich_text_list' && value.style !== 'bullet' && value.style !== 'ordered')
    complain(`${where}: list without style`);
  if (list(value.elements).length === 0) complain(`${where}: nothing in it`);
  for (const inner of list(value.elements)) richTexts(inner, where, complain);
};

const block = (value: unknown, where: string, modal: boolean, complain: Complain): void => {
  if (!isJson(value)) {
    complain(`${where}: no block`);
    return;
  }
  if (length(value.block_id) > 255) complain(`${where}: block_id too long`);
  switch (value.type) {
    case 'header':
      plainOnly(value.text, 150, `${where}.header`, complain);
      return;
    case 'section':
      if (value.text === undefined && value.fields === undefined)
        complain(`${where}: section without text or fields`);
      if (value.text !== undefined) textObject(value.text, 3000, `${where}.section`, complain);
      if (list(value.fields).length > 10) complain(`${where}: more than 10 fields`);
      for (const field of list(value.fields)) textObject(field, 2000, `${where}.field`, complain);
      return;
    case 'context':
      if (list(value.elements).length < 1 || list(value.elements).length > 10)
        complain(`${where}: context of ${list(value.elements).length}`);
      for (const inner of list(value.elements))
        textObject(inner, 3000, `${where}.context`, complain);
      return;
    case 'actions': {
      const elements = list(value.elements);
      if (elements.length < 1 || elements.length > 25)
        complain(`${where}: actions of ${elements.length}`);
      for (const inner of elements) element(inner, where, complain);
      return;
    }
    case 'rich_text':
      richTexts(value, where, complain);
      return;
    case 'divider':
      return;
    case 'input':
      if (!modal) complain(`${where}: input in a message`);
      plainOnly(value.label, 2000, `${where}.label`, complain);
      if (value.hint !== undefined) plainOnly(value.hint, 2000, `${where}.hint`, complain);
      element(value.element, where, complain);
      return;
    default:
      complain(`${where}: block ${String(value.type)} is not known here`);
  }
};

const idsOf = (blocks: readonly unknown[]): readonly string[] =>
  blocks.flatMap((each) =>
    isJson(each)
      ? [
          ...(typeof each.block_id === 'string' ? [`block ${each.block_id}`] : []),
          ...list(each.elements).flatMap((inner) =>
            isJson(inner) && typeof inner.action_id === 'string'
              ? [`action ${inner.action_id}`]
              : [],
          ),
        ]
      : [],
  );

const blocksOf = (blocks: unknown, most: number, modal: boolean, complain: Complain): void => {
  const all = list(blocks);
  if (all.length > most) complain(`${all.length} blocks, ${most} are taken`);
  for (const [index, each] of all.entries()) block(each, `block ${index}`, modal, complain);
  const ids = idsOf(all);
  for (const id of new Set(ids))
    if (ids.filter((other) => other === id).length > 1) complain(`${id} stands twice`);
};

const collecting = (look: (complain: Complain) => void): readonly string[] => {
  const found: string[] = [];
  look((what) => found.push(what));
  return found;
};

/** What Slack would refuse in a message, and what we hold ourselves to: a text always, nothing that calls a whole channel. */
export const complaintsAboutMessage = (message: {
  readonly text?: unknown;
  readonly blocks?: unknown;
}): readonly string[] =>
  collecting((complain) => {
    if (length(message.text) < 1) complain('no text');
    if (length(message.text) > 4000) complain(`text of ${length(message.text)}`);
    blocksOf(message.blocks, 50, false, complain);
    const whole = JSON.stringify(message.blocks ?? []);
    if (whole.length > 13_200) complain(`blocks of ${whole.length} characters together`);
    const said = [message.text, ...mrkdwnIn(message.blocks)].join('\n');
    if (/<!(?:here|channel|everyone|subteam)/u.test(said)) complain('mentions a whole channel');
  });

const mrkdwnIn = (value: unknown): readonly string[] => {
  if (Array.isArray(value)) return value.flatMap(mrkdwnIn);
  if (!isJson(value)) return [];
  if (value.type === 'mrkdwn' && typeof value.text === 'string') return [value.text];
  return Object.values(value).flatMap(mrkdwnIn);
};

/** A Home tab takes what a message takes, 100 blocks of it, and neither title nor buttons of its own. */
export const complaintsAboutHome = (view: unknown): readonly string[] =>
  collecting((complain) => {
    if (!isJson(view)) {
      complain('no view');
      return;
    }
    if (view.type !== 'home') complain(`view of type ${String(view.type)}`);
    for (const part of ['title', 'submit', 'close'] as const)
      if (view[part] !== undefined) complain(`a ${part} on a Home tab`);
    if (list(view.blocks).length < 1) complain('no blocks');
    blocksOf(view.blocks, 100, true, complain);
    if (/<!(?:here|channel|everyone|subteam)/u.test(mrkdwnIn(view.blocks).join('\n')))
      complain('mentions a whole channel');
  });

export const complaintsAboutView = (view: unknown): readonly string[] =>
  collecting((complain) => {
    if (!isJson(view)) {
      complain('no view');
      return;
    }
    if (view.type !== 'modal') complain(`view of type ${String(view.type)}`);
    for (const part of ['title', 'submit', 'close'] as const)
      if (view[part] !== undefined) plainOnly(view[part], 24, part, complain);
    if (view.title === undefined) complain('no title');
    if (length(view.private_metadata) > 3000) complain('private_metadata too long');
    if (length(view.callback_id) > 255) complain('callback_id too long');
    if (list(view.blocks).length < 1) complain('no blocks');
    if (view.submit === undefined && JSON.stringify(view.blocks).includes('"input"'))
      complain('inputs without submit');
    blocksOf(view.blocks, 100, true, complain);
  });
