import { backAgain } from './back-again.ts';
import type { Check } from './check.ts';
import { codeForm } from './code-form.ts';
import { codeMismatch } from './code-mismatch.ts';
import { codeRepeat } from './code-repeat.ts';
import { countShort } from './count-short.ts';
import { earlyClose } from './early-close.ts';
import { notReleased } from './not-released.ts';
import { notRenewed } from './not-renewed.ts';
import { outOfLimits } from './out-of-limits.ts';
import { overTime } from './over-time.ts';
import { overdue } from './overdue.ts';
import { redo } from './redo.ts';
import { sameHands } from './same-hands.ts';
import { skipped } from './skipped.ts';
import { stageOrder } from './stage-order.ts';
import { stageRepeat } from './stage-repeat.ts';
import { tooSoon } from './too-soon.ts';
import { toolOutOfDate } from './tool-out-of-date.ts';
import { troubleCodeBack } from './trouble-code-back.ts';
import { unanswered } from './unanswered.ts';
import { unsafeState } from './unsafe-state.ts';
import { volumeShort } from './volume-short.ts';
import { wrongPosition } from './wrong-position.ts';

/** Every check, in the order of the list of rules; a later one may look at what those before it have said. */
export const CHECKS: readonly Check[] = [
  skipped,
  notReleased,
  sameHands,
  unsafeState,
  outOfLimits,
  stageOrder,
  tooSoon,
  wrongPosition,
  countShort,
  volumeShort,
  codeForm,
  codeMismatch,
  codeRepeat,
  toolOutOfDate,
  redo,
  troubleCodeBack,
  stageRepeat,
  notRenewed,
  overdue,
  backAgain,
  unanswered,
  overTime,
  earlyClose,
];
