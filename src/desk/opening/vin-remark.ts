// A vehicle number that does not fit is remarked on, never refused: the plate is read again, the job goes on.
import { checkVin as verify } from '../../trade/vin.ts';

/** One sentence, or undefined when the number is in order. */
export const checkVin = (vin: string): string | undefined => {
  const result = verify(vin);
  if (!result.ok) return `${result.problem.what} ${result.problem.doThis}`;
  return result.value.level === 'none' ? undefined : result.value.answer;
};
