// A document before any printer draws it: headings, paragraphs, facts and tables. Text carries the whole meaning.

export type Column = {
  readonly title: string;
  /** Share of the width; the shares of a table are weighed against each other. */
  readonly share: number;
  /** Set in a typewriter face: codes and hashes. */
  readonly code?: boolean;
};

export type DocumentBlock =
  /** `keep`: stays on the page of what follows it. Level 1 is the title, once. */
  | { readonly kind: 'heading'; readonly level: 1 | 2 | 3; readonly text: string }
  | { readonly kind: 'text'; readonly text: string; readonly small?: boolean }
  | { readonly kind: 'code'; readonly text: string }
  /** Something to be seen before the rest, in a frame. */
  | { readonly kind: 'notice'; readonly title: string; readonly lines: readonly string[] }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [label: string, value: string])[] }
  | {
      readonly kind: 'table';
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly string[])[];
      /** Rows, from 0, that a reader must not miss: set in bold with a mark beside them. */
      readonly marked?: readonly number[];
    }
  /** Everything after it goes to a new page. */
  | { readonly kind: 'new-page' };

export type PrintDocument = {
  readonly title: string;
  /** Stands at the head of every page after the first. */
  readonly running: string;
  /** ISO 8601 with offset; nothing else in the document depends on the time it is printed. */
  readonly made: string;
  readonly blocks: readonly DocumentBlock[];
};
