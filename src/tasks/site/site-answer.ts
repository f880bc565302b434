import { countWords } from '../../core/quality/count-words.js';
import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import type { Answer, RunAnswer } from '../../records/runs/run-answer.js';
import type { SiteResidualRow } from '../../records/reports/parts/site-fit.js';

/** What a fit found besides its points. */
export interface SiteFindings {
  /** Something is to be settled before the site is used. */
  readonly isSuspect: boolean;
  /** Nothing, or hardly anything, checks the fit in plan or in height, or a doubt is no more than worth a look. */
  readonly isDoubtful: boolean;
  readonly rowsSkipped: number;
}

/** The answer of a fit: no for a suspect point or site, review where too little checks it, else within. */
export function siteAnswer(
  rows: readonly SiteResidualRow[],
  { isSuspect, isDoubtful, rowsSkipped }: SiteFindings,
): RunAnswer {
  const answers = rows.map(({ verdict }) => verdict);
  const count = (word: Answer): number => answers.filter((answer) => answer === word).length;
  return {
    answer: gravestAnswer([
      ...answers,
      ...(isSuspect || rowsSkipped > 0 ? (['no'] as const) : []),
      ...(isDoubtful ? (['review'] as const) : []),
    ]),
    verdicts: new Map((['within', 'review', 'no'] as const).map((word) => [word, count(word)])),
    reasons: countWords(rows, (row) => row.reasons),
  };
}
