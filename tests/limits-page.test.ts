import { describe, expect, it } from 'vitest';
import { PROBLEM_CODES } from '../src/records/codes/problem-codes.js';
import type { ProblemCode } from '../src/records/codes/problem-codes.js';
import { textOf } from './support/repository-files.js';

const ROW =
  /^\| (?<what>[^|]+) \| (?<value>\d+) [a-z]+ \| `(?<code>[a-z-]+)` \| (?<exit>\d+) \| `(?<file>[^:`]+): (?<name>\w+)` \|$/u;

const rows = textOf('docs/limits.md')
  .split('\n')
  .filter((line) => line.includes('| `src/'))
  .map((line) => ROW.exec(line)?.groups ?? { what: line, value: '', code: '', exit: '', file: '', name: '' });

/** The value of a constant as the code writes it: a number with underscores, or one shifted by another. */
function constantIn(text: string, name: string): number | null {
  const found = new RegExp(
    String.raw`\b${name}(?:: number)?(?: =|:) (?<value>[\d_]+)(?: << (?<shift>\d+))?[;,} ]`,
    'u',
  ).exec(text)?.groups;
  if (found === undefined) return null;
  return Number((found['value'] ?? '').replaceAll('_', '')) * 2 ** Number(found['shift'] ?? '0');
}

describe('docs/limits.md', () => {
  it('has rows', () => {
    expect(rows.length).toBeGreaterThanOrEqual(10);
  });

  it.each(rows)('states "$what" as the code has it', ({ value, code, exit, file, name }) => {
    expect(constantIn(textOf(file ?? ''), name ?? '')).toBe(Number(value));
    expect(PROBLEM_CODES[code as ProblemCode].exit).toBe(Number(exit));
  });
});
