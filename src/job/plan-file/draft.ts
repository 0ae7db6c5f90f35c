import type { z } from 'zod';
import type { PlanFile } from '../../../shared/plan.ts';
import { type Path, valueAt } from './place.ts';

/** Anything of it may be missing; what is there has its type. */
type Part<T> = T extends readonly (infer E)[]
  ? readonly (Part<E> | undefined)[]
  : T extends object
    ? { readonly [K in keyof T]?: Part<T[K]> | undefined }
    : T;

/**
 * A plan as far as its form is sound, so that one mistyped key hides no complaint about the rest. Items of lists keep
 * their places: what was taken out leaves a gap.
 */
export type Draft = Part<PlanFile>;
export type DraftStep = Part<PlanFile['steps'][number]>;
export type DraftAsk = Part<NonNullable<PlanFile['steps'][number]['report']>[number]>;
export type DraftWatched = Part<NonNullable<PlanFile['watched']>[number]>;

/** The issue codes after which a value has not even its type; otherwise only its size or spelling is wrong. */
const WRONG_TYPE: readonly string[] = [
  'invalid_type',
  'invalid_value',
  'unrecognized_keys',
  'invalid_union',
  'invalid_key',
];

/** A copy of the data without what has not the type it should have. */
export function withoutFaults(data: unknown, issues: readonly z.core.$ZodIssue[]): Draft {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) return {};
  const copy: unknown = structuredClone(data);
  for (const issue of issues) {
    if (!WRONG_TYPE.includes(issue.code)) continue;
    const path = issue.path as Path;
    if (issue.code === 'unrecognized_keys') {
      for (const key of issue.keys) take(copy, [...path, key]);
    } else take(copy, issue.code === 'invalid_union' ? path.slice(0, -1) : path);
  }
  return copy as Draft;
}

function take(root: unknown, path: Path): void {
  const key = path.at(-1);
  const owner = valueAt(root, path.slice(0, -1));
  if (key === undefined || typeof owner !== 'object' || owner === null) return;
  if (Array.isArray(owner)) owner[Number(key)] = undefined;
  else delete (owner as Record<string | number, unknown>)[key];
}
