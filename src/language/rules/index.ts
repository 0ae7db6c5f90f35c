// Every rule of stance, in the order in which they are asked. The first that speaks has the clause.
// What denies or doubts comes before what reports, so that a report is only what nothing speaks against.
import type { Rule } from '../stance.ts';
import { aboutTo } from './about-to.ts';
import { askedOfSomebody } from './asked-of-somebody.ts';
import { calledDone } from './called-done.ts';
import { cannot } from './cannot.ts';
import { condition } from './condition.ts';
import { figureBesidePart } from './figure-beside-part.ts';
import { handTight } from './hand-tight.ts';
import { inDoubt } from './in-doubt.ts';
import { later } from './later.ts';
import { leftToDo } from './left-to-do.ts';
import { moved } from './moved.ts';
import { nearly } from './nearly.ts';
import { noFaultFound } from './no-fault-found.ts';
import { notDone } from './not-done.ts';
import { onlyCompared } from './only-compared.ts';
import { orderToDo } from './order-to-do.ts';
import { outOfStock } from './out-of-stock.ts';
import { privateTalk } from './private-talk.ts';
import { questionMark } from './question-mark.ts';
import { questionTag } from './question-tag.ts';
import { questionWords } from './question-words.ts';
import { resultIsGood } from './result-is-good.ts';
import { saidInThePast } from './said-in-the-past.ts';
import { somethingWrong } from './something-wrong.ts';
import { somewhereElse } from './somewhere-else.ts';
import { started } from './started.ts';
import { stillAsItWas } from './still-as-it-was.ts';
import { toldNotTo } from './told-not-to.ts';
import { turnedUp } from './turned-up.ts';
import { waitingFor } from './waiting-for.ts';
import { wishOrAdvice } from './wish-or-advice.ts';

export const RULES: readonly Rule[] = [
  privateTalk,
  askedOfSomebody,
  questionMark,
  questionWords,
  questionTag,
  toldNotTo,
  condition,
  waitingFor,
  outOfStock,
  cannot,
  inDoubt,
  noFaultFound,
  notDone,
  handTight,
  leftToDo,
  stillAsItWas,
  somewhereElse,
  onlyCompared,
  wishOrAdvice,
  aboutTo,
  later,
  turnedUp,
  started,
  nearly,
  orderToDo,
  somethingWrong,
  saidInThePast,
  moved,
  calledDone,
  resultIsGood,
  figureBesidePart,
];
