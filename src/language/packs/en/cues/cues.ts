// The form of a table of signs.
import type { CueName } from '../../../pack.ts';

export type Cues = Readonly<Partial<Record<CueName, readonly string[]>>>;
