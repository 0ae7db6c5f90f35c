// What is alike but for its position stands in one row: six cylinders are one row, not six.
import { positionsTogether } from '../../desk/say.ts';

type Placed = { readonly position: string | null };

export type Gathered<T> = {
  /** The first of those that are alike. */
  readonly one: T;
  readonly all: readonly T[];
  /** "cylinder 1 to 6"; "" where it has no position. */
  readonly at: string;
};

/** @param likeness everything of it that a reader would see, without the position */
export const gather = <T extends Placed>(
  items: readonly T[],
  likeness: (item: T) => string,
): readonly Gathered<T>[] => {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = `${item.position === null}|${likeness(item)}`;
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  return [...groups.values()].flatMap((all) => {
    const [one] = all;
    if (!one) return [];
    const positions = all.flatMap(({ position }) => (position === null ? [] : [position]));
    return [{ one, all, at: positions.length === 0 ? '' : positionsTogether(positions) }];
  });
};

/** Title with the positions gathered under it: "Fit the injector, cylinder 1 to 6". */
export const gatheredPlace = ({
  one,
  at,
}: Gathered<{ readonly title: string } & Placed>): string =>
  at === '' ? one.title : `${one.title}, ${at}`;

/** Whatever was drawn of it, as one text. */
export const likenessOf = (...parts: readonly (string | number | boolean | null)[]): string =>
  JSON.stringify(parts);
