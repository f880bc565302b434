import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem, ProblemDetail } from '../../records/problem.js';
import { entryAt } from '../../records/present.js';

/** What a file of candidates says of a place beside its position; null: not known. */
export interface CandidateAttributes {
  readonly cellular: boolean | null;
  readonly skyScore: number | null;
  readonly cost: number | null;
}

const WORDS: ReadonlyMap<string, boolean> = new Map([
  ['yes', true],
  ['true', true],
  ['1', true],
  ['no', false],
  ['false', false],
  ['0', false],
]);

/**
 * Reads cellular, sky_score and cost of the rows of a file of candidates; the columns may be absent, their cells empty.
 * Given: the names of the columns that passed through, and a row's file name. Returned: a reader of one row.
 * Problems: value-unknown-word for cellular; value-not-a-number for the others.
 */
export function createCandidateAttributes(
  passThroughNames: readonly string[],
  source: string,
  decimalComma: boolean,
): (row: PointRow) => Outcome<CandidateAttributes> {
  const indexOf = (name: string): number =>
    passThroughNames.findIndex((header) => header.trim().toLowerCase() === name);
  const columns = { cellular: indexOf('cellular'), skyScore: indexOf('sky_score'), cost: indexOf('cost') };
  return (row) => {
    const problems: Problem[] = [];
    const cell = (index: number): string => (index < 0 ? '' : entryAt(row.passThrough, index).trim());
    const detail = (column: string, text: string, message: string, hint?: string): ProblemDetail => ({
      message,
      where: { source, line: row.place.line, column },
      received: text,
      ...(hint !== undefined && { hint }),
    });
    const number = (index: number, column: string): number | null => {
      const text = cell(index);
      const value = text === '' ? null : parseDecimal(text, decimalComma);
      if (text !== '' && value === null)
        problems.push(errorProblem('value-not-a-number', detail(column, text, `"${text}" is not a number`)));
      return value;
    };
    const word = cell(columns.cellular);
    const cellular = word === '' ? null : (WORDS.get(word.toLowerCase()) ?? null);
    if (word !== '' && cellular === null)
      problems.push(
        errorProblem(
          'value-unknown-word',
          detail('cellular', word, `"${word}" is neither yes nor no`, 'leave the cell empty where it is not known'),
        ),
      );
    const attributes = {
      cellular,
      skyScore: number(columns.skyScore, 'sky_score'),
      cost: number(columns.cost, 'cost'),
    };
    return problems.length > 0 ? failureOf(problems) : success(attributes);
  };
}
