// Networks of activities whose critical path is published, with optimistic, most likely and pessimistic times.

/** An activity's letter, its three times and the letters of those it comes after. */
export type Row = readonly [id: string, o: number, m: number, p: number, after: string];

/** The textbook case of eight activities (from memory): 15, A-C-E-G-H, variance 3.11, 71.46 % within 16. */
export const EIGHT: readonly Row[] = [
  ['A', 1, 2, 3, ''],
  ['B', 2, 3, 4, ''],
  ['C', 1, 2, 3, 'A'],
  ['D', 2, 4, 6, 'AB'],
  ['E', 1, 4, 7, 'C'],
  ['F', 1, 2, 9, 'C'],
  ['G', 3, 4, 11, 'DE'],
  ['H', 1, 2, 3, 'FG'],
];

/** A published exercise of fourteen activities: 50.8333, A-C-E-H-I-K-M-N, variance 11.194; networkx 2.8.8 agrees. */
export const FOURTEEN: readonly Row[] = [
  ['A', 5, 5, 7, ''],
  ['B', 1, 2, 5, ''],
  ['C', 5, 5, 5, 'A'],
  ['D', 4, 8, 13, 'A'],
  ['E', 1, 10, 17, 'BC'],
  ['F', 1, 5, 7, 'D'],
  ['G', 2, 6, 9, 'D'],
  ['H', 4, 4, 6, 'EF'],
  ['I', 2, 7, 10, 'GH'],
  ['J', 2, 4, 7, 'I'],
  ['K', 6, 10, 13, 'I'],
  ['L', 2, 6, 6, 'J'],
  ['M', 2, 2, 3, 'K'],
  ['N', 7, 7, 12, 'LM'],
];
