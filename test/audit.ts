// Asks the package registry whether a package that the program runs with is known to be unsafe.
import { spawnSync } from 'node:child_process';

export type Audit =
  | { readonly kind: 'clean' }
  | { readonly kind: 'found'; readonly says: string }
  | { readonly kind: 'no answer'; readonly why: string };

/** @param output what `npm audit --json` printed */
export const auditFrom = (output: string): Audit => {
  let read: unknown;
  try {
    read = JSON.parse(output.slice(output.indexOf('{')));
  } catch {
    return { kind: 'no answer', why: 'npm gave no answer that can be read' };
  }
  const answer = read as {
    readonly message?: string;
    readonly error?: unknown;
    readonly metadata?: { readonly vulnerabilities?: Readonly<Record<string, number>> };
    readonly vulnerabilities?: Readonly<Record<string, { readonly severity?: string }>>;
  };
  const counts = answer.metadata?.vulnerabilities;
  if (answer.error !== undefined || counts === undefined)
    return { kind: 'no answer', why: (answer.message ?? 'npm gave no counts').slice(0, 200) };
  if ((counts.total ?? 0) === 0) return { kind: 'clean' };
  const names = Object.entries(answer.vulnerabilities ?? {}).map(
    ([name, { severity }]) => `${name} (${severity})`,
  );
  return { kind: 'found', says: `${counts.total} known to be unsafe: ${names.join(', ')}` };
};

/** Asks now. */
export const audit = (): Audit =>
  auditFrom(
    spawnSync('npm', ['audit', '--omit=dev', '--json'], { encoding: 'utf8', timeout: 120_000 })
      .stdout ?? '',
  );

if (process.argv[1] === import.meta.filename) {
  const found = audit();
  console.log(found.kind === 'found' ? found.says : found.kind);
  process.exitCode = found.kind === 'found' ? 1 : 0;
}
