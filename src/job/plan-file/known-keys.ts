// What the plan's schema says about one place of a plan: the keys it knows there, and its own description.
import type { z } from 'zod';
import { type Path, valueAt } from './place.ts';

/** The parts of a schema's definition that are looked at here; zod's own type keeps them loose. */
type Def = {
  readonly type: string;
  readonly innerType?: Schema;
  readonly element?: Schema;
  readonly valueType?: Schema;
  readonly options?: readonly Schema[];
  readonly shape?: Readonly<Record<string, Schema>>;
  readonly values?: readonly unknown[];
  readonly entries?: Readonly<Record<string, unknown>>;
};
type Schema = z.ZodType & { readonly def: Def };

const WRAPPERS = ['optional', 'nullable', 'default', 'readonly'];

function bare(schema: Schema): Schema {
  let here = schema;
  while (WRAPPERS.includes(here.def.type) && here.def.innerType) here = here.def.innerType;
  return here;
}

/** The schema at a path, unions settled by the `kind` in the data; undefined where the schema has no such place. */
export function schemaAt(root: z.ZodType, data: unknown, path: Path): Schema | undefined {
  let here: Schema | undefined = settle(root as Schema, data);
  for (const [index, key] of path.entries()) {
    const def: Def | undefined = here && bare(here).def;
    const next: Schema | undefined =
      typeof key === 'number' ? def?.element : (def?.shape?.[key] ?? def?.valueType);
    here = next && settle(next, valueAt(data, path.slice(0, index + 1)));
  }
  return here;
}

function settle(schema: Schema, value: unknown): Schema {
  const union = bare(schema);
  if (!union.def.options) return schema;
  const kind = valueAt(value, ['kind']);
  return union.def.options.find((option) => kindsOf(option).includes(kind)) ?? schema;
}

function kindsOf(option: Schema): readonly unknown[] {
  const kind = bare(option).def.shape?.kind?.def;
  return kind?.values ?? Object.values(kind?.entries ?? {});
}

/** The keys a group may have there; empty where any name may stand, as under `fluids`. */
export function knownKeys(root: z.ZodType, data: unknown, path: Path): readonly string[] {
  const schema = schemaAt(root, data, path);
  return Object.keys((schema && bare(schema).def.shape) ?? {});
}

/** What the schema says about the place in words, if it says anything. */
export function describedAt(root: z.ZodType, data: unknown, path: Path): string | undefined {
  const schema = schemaAt(root, data, path);
  return schema?.description ?? (schema && bare(schema).description);
}
