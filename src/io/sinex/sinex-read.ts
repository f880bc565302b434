import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { entryAt } from '../../records/present.js';
import { columnsOf, sinexEpochYear, sinexNumber } from './sinex-fields.js';

/** A line of a block, with its number in the file. */
export interface SinexLine {
  readonly line: number;
  readonly text: string;
}

/** What the first line says. */
export interface SinexHeader {
  readonly version: string;
  readonly agency: string;
  readonly createdYear: number | null;
  readonly startYear: number | null;
  readonly endYear: number | null;
  readonly technique: string;
  readonly parameters: number | null;
  readonly constraint: string;
}

/** A SINEX file cut into its blocks; comments are left out. */
export interface SinexFile {
  readonly header: SinexHeader;
  /** Lines by the name of the block, such as `SOLUTION/ESTIMATE`; of a matrix with its two words behind it. */
  readonly blocks: ReadonlyMap<string, readonly SinexLine[]>;
}

/**
 * Cuts a SINEX file into its blocks.
 *
 * Given: the text. Returned: header and blocks. Problems: sinex-unreadable, with the line, where the first line is none of
 * SINEX, a block is not closed or closed by another name, or the file ends without %ENDSNX, which a file cut off lacks.
 * Reference: SINEX 2.02, sections "header" and "blocks".
 */
export function readSinex(text: string): Outcome<SinexFile> {
  const lines = text.split(/\r?\n/u);
  const first = entryAt(lines, 0);
  const header = headerOf(first);
  if (header === null) return unreadable(1, 'the first line is none of SINEX', '%=SNX 2.02 …');
  const blocks = new Map<string, SinexLine[]>();
  let open: { readonly name: string; readonly lines: SinexLine[]; readonly line: number } | null = null;
  for (let index = 1; index < lines.length; index += 1) {
    const line = entryAt(lines, index);
    const number = index + 1;
    if (line.startsWith('*') || line.trim() === '') continue;
    if (line.startsWith('%ENDSNX'))
      return open === null
        ? success({ header, blocks })
        : unreadable(number, `block ${open.name}, opened on line ${String(open.line)}, is not closed`, `-${open.name}`);
    if (line.startsWith('+')) {
      if (open !== null) return unreadable(number, `block ${open.name} is not closed before the next`, `-${open.name}`);
      open = { name: line.slice(1).trim(), lines: [], line: number };
    } else if (line.startsWith('-')) {
      if (open?.name !== line.slice(1).trim())
        return unreadable(
          number,
          `${line.trim()} closes a block that is not open`,
          open === null ? '+BLOCK' : `-${open.name}`,
        );
      blocks.set(open.name, open.lines);
      open = null;
    } else open?.lines.push({ line: number, text: line });
  }
  return unreadable(lines.length, 'the file ends without %ENDSNX: it may be cut off', '%ENDSNX');
}

function headerOf(line: string): SinexHeader | null {
  const words = line.trim().split(/\s+/u);
  const [mark, version, agency, created, , start, end, technique, parameters, constraint] = words;
  if (mark !== '%=SNX' || version === undefined || agency === undefined) return null;
  return {
    version,
    agency,
    createdYear: sinexEpochYear(created ?? 'none'),
    startYear: sinexEpochYear(start ?? 'none'),
    endYear: sinexEpochYear(end ?? 'none'),
    technique: technique ?? 'not stated',
    parameters: sinexNumber(parameters ?? 'none'),
    constraint: constraint ?? 'not stated',
  };
}

/** sinex-unreadable at a line. */
export function unreadable(line: number, message: string, expected: string): Outcome<never> {
  return failure(errorProblem('sinex-unreadable', { message, expected, where: { line } }));
}

/** Columns of a line under the names used here. */
export const ESTIMATE_COLUMNS = {
  index: [2, 6],
  type: [8, 13],
  code: [15, 18],
  point: [20, 21],
  solution: [23, 26],
  epoch: [28, 39],
  unit: [41, 44],
  value: [48, 68],
  sigma: [70, 80],
} as const;

/** One column of an estimate. */
export function estimateColumn({ text }: SinexLine, name: keyof typeof ESTIMATE_COLUMNS): string {
  const [first, last] = ESTIMATE_COLUMNS[name];
  return columnsOf(text, first, last);
}
