// Signs of stance and of kinds of talk, as word sequences after contractions are opened ("dont" is "do not").
import { amounts } from './amounts.ts';
import { begunAndDone } from './begun-and-done.ts';
import { clock } from './clock.ts';
import { corrections } from './corrections.ts';
import type { Cues } from './cues.ts';
import { defects } from './defects.ts';
import { denial } from './denial.ts';
import { heldUp } from './held-up.ts';
import { joints } from './joints.ts';
import { questions } from './questions.ts';
import { talk } from './talk.ts';
import { toCome } from './to-come.ts';
import { wishAndDoubt } from './wish-and-doubt.ts';

export const cues: Cues = {
  ...denial,
  ...toCome,
  ...wishAndDoubt,
  ...begunAndDone,
  ...questions,
  ...corrections,
  ...heldUp,
  ...defects,
  ...clock,
  ...amounts,
  ...talk,
  ...joints,
};
