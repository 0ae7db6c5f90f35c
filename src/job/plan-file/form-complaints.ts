// What the strict schema finds in a plan, as complaints for people, and what is left of the plan without it.
import { type Complaint, PlanFile } from '../../../shared/plan.ts';
import { nearestName } from '../nearest-name.ts';
import { type Draft, withoutFaults } from './draft.ts';
import { wordsFor } from './form-words.ts';
import { knownKeys } from './known-keys.ts';
import { respell } from './mistyped-keys.ts';
import { type Path, pathText, placeInWords, short } from './place.ts';

type Words = Pick<Complaint, 'what' | 'expected' | 'mend'>;
export type LineOf = (path: Path) => number;

/** The plan as far as its form is sound, with a complaint for the rest. `file` is set when all of it is. */
export type FormResult = {
  readonly file?: PlanFile;
  readonly draft: Draft;
  /** A path of the draft as it stands in the file, where a key was misspelled. */
  readonly asWritten: (path: Path) => Path;
  readonly complaints: readonly Complaint[];
};

/** Checks the form of plain data against the schema of plan files. */
export function checkForm(given: unknown, lineOf: LineOf): FormResult {
  const sound = PlanFile.safeParse(given);
  if (sound.success) {
    return { file: sound.data, draft: sound.data, asWritten: (path) => path, complaints: [] };
  }
  const { data, renamed, asWritten } = respell(given);
  const error = (path: Path, words: Words): Complaint => {
    const at = asWritten(path);
    return { level: 'error', line: lineOf(at), path: pathText(at), ...words };
  };
  const complaints = renamed.map(({ group, from, to }) =>
    error([...group, to], unknownKey(from, to, data, group)),
  );
  const issues = PlanFile.safeParse(data).error?.issues ?? [];
  for (const issue of issues) {
    const path = issue.path as Path;
    if (issue.code !== 'unrecognized_keys')
      complaints.push(error(path, wordsFor(issue, data, path)));
    else {
      for (const key of issue.keys) {
        const nearest = nearestName(key, knownKeys(PlanFile, data, path));
        complaints.push(error([...path, key], unknownKey(key, nearest, data, path)));
      }
    }
  }
  return { draft: withoutFaults(data, issues), asWritten, complaints };
}

function unknownKey(key: string, nearest: string | undefined, data: unknown, path: Path): Words {
  const known = knownKeys(PlanFile, data, path);
  const group = path.at(-1);
  const thing = placeInWords(data, path);
  const ofItsOwn = typeof group === 'string' && placeInWords(data, path.slice(0, -1)) === thing;
  return {
    what: `"${short(key)}" is no key of ${ofItsOwn ? `"${group}" of ${thing}` : thing}.`,
    expected: `One of ${known.join(', ')}.`,
    mend: nearest
      ? `Write ${nearest}, or take the line out.`
      : 'Take the line out, or put it behind # as a remark.',
  };
}
