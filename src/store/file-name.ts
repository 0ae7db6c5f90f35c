// File names from job numbers. A number is typed by people, so it may hold anything.
import { createHash } from 'node:crypto';

const LONGEST = 120;

/**
 * A file name without ending that cannot leave its folder and differs for any two job numbers, also where the disk
 * takes capital and small letters for the same, changes accents to another spelling, or reserves names such as "con".
 * Small letters, digits and hyphens stay; other characters become their code: "1042/A" is `job-1042_2f_41`.
 */
export function fileNameOf(job: string): string {
  let name = 'job-';
  for (let i = 0; i < job.length; i++) {
    const char = job.charAt(i);
    const code = job.charCodeAt(i);
    if (/[a-z0-9-]/.test(char)) name += char;
    else if (code < 0x80) name += `_${code.toString(16).padStart(2, '0')}`;
    else name += `_u${code.toString(16).padStart(4, '0')}`;
  }
  if (name.length <= LONGEST) return name;
  const digest = createHash('sha256').update(JSON.stringify(job)).digest('hex').slice(0, 32);
  return `${name.slice(0, LONGEST - 34)}__${digest}`;
}
