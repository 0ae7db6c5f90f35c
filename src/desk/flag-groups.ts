// Flags that differ only in their position are said as one: six cylinders are one sentence, not six.
import { type Flag, flagKey } from '../../shared/flag.ts';
import { positionsTogether } from './say.ts';

export type FlagGroup = {
  /** The identity shared by the group, with * for the position; the flag's own where it is alone. */
  readonly key: string;
  readonly flags: readonly Flag[];
  readonly level: Flag['level'];
  readonly says: string;
};

const ANY = '*';

const sharedKey = (flag: Flag): string =>
  [flag.rule, flag.step ?? '', ANY, flag.part ?? ''].join('|');

/** Whether a key of a card or a command means this flag; * stands for any position. */
export const meansFlag = (key: string, flag: Flag): boolean =>
  key === flagKey(flag) || key === sharedKey(flag);

/** The sentence of one flag with the positions of all. */
const saysOf = (flags: readonly Flag[]): string => {
  const [first] = flags;
  if (!first) return '';
  const positions = flags.map((flag) => flag.position).filter((position) => position !== null);
  if (flags.length === 1 || first.position === null) return first.says;
  return first.says.replaceAll(`, ${first.position}`, `, ${positionsTogether(positions)}`);
};

/** In the order of the first flag of each group. Flags are said together only where all but their position is alike. */
export const grouped = (flags: readonly Flag[]): readonly FlagGroup[] => {
  const groups = new Map<string, Flag[]>();
  for (const flag of flags) {
    const alike =
      flag.position === null ? flag.says : flag.says.replaceAll(`, ${flag.position}`, ', @');
    const key = `${sharedKey(flag)}|${flag.level}|${alike}`;
    groups.set(key, [...(groups.get(key) ?? []), flag]);
  }
  return [...groups.values()].map((members) => ({
    key: members.length === 1 && members[0] ? flagKey(members[0]) : sharedKey(members[0] as Flag),
    flags: members,
    level: members[0]?.level ?? 'advice',
    says: saysOf(members),
  }));
};
