import { Readable } from 'node:stream';
import type { UsedLimit } from '../../core/quality/standards/limit-rule.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { loadLimitsFile } from './load-limits-file.js';

/**
 * The rules of a limits file (TOML, docs/methods/limits.md), each with the checks it belongs to.
 *
 * Given: its path, from the working folder. Problems: file-not-found; those of the settings, each with its key and line.
 *
 * @example
 * const limits = await readLimitsFile('limits.toml');
 * if (limits.ok) console.log(limits.value.map(({ rule }) => rule.name));
 */
export async function readLimitsFile(path: string): Promise<Outcome<readonly UsedLimit[]>> {
  const file = await loadLimitsFile(path, { cwd: '.', stdin: Readable.from([]) });
  return file.ok ? success(file.value.limits, file.problems) : file;
}
