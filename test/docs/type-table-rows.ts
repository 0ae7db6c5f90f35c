// Which messages of the corpora the README shows, and what a person wants to do with each.
export const CHOSEN: readonly { readonly id: string; readonly heading: string }[] = [
  { heading: 'report a step', id: 'injectors-plain-002' },
  { heading: 'report a figure', id: 'injectors-plain-001' },
  { heading: 'name the position', id: 'injectors-plain-004' },
  { heading: 'list positions', id: 'injectors-plain-008' },
  { heading: 'report a stage', id: 'injectors-plain-006' },
];
