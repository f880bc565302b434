import type { IsoMeasurement, IsoNominal } from '../../../core/quality/standards/iso-17123-8.js';
import type { Standard } from '../../../core/quality/standards/standards.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { checkAnswer } from '../check-answer.js';
import { checkIso } from './check-tolerances-iso.js';
import type { IsoResult } from './check-tolerances-iso.js';
import type { StandardStatement } from './check-tolerances-standard-statement.js';
import { notJudged } from './check-tolerances-standard.js';
import { isoStatements } from './iso-statements.js';

/** What the field procedure is run on. */
export interface IsoRequest {
  readonly measurements: readonly IsoMeasurement[];
  /** Name of their file, for the place of problems. */
  readonly source: string;
  readonly nominal: IsoNominal;
  /** An earlier campaign to compare with; null: none. */
  readonly campaign: readonly IsoMeasurement[] | null;
  readonly standard: Pick<Standard, 'notJudged'>;
}

/** The procedure, what it lets one say, and the answer. */
export interface IsoRun {
  readonly result: IsoResult;
  readonly statements: readonly StandardStatement[];
  readonly answer: RunAnswer;
}

/**
 * Runs the field procedure of ISO 17123-8 from its measurements to its answer. Problems: those of `checkIso`.
 *
 * @example
 * // The series of the example.
 * const series = await readSeriesFile('../quillback-pan-check/series.csv');
 * const { measurements } = series.value;
 * const nominal = { distanceM: 13, heightDifferenceM: 0.21, sigmaXyM: 0.015, sigmaHeightM: 0.025 };
 * const run = runIso({ measurements, source: 'series.csv', nominal, campaign: null, standard: { notJudged: [] } }).value;
 * [run.result.procedure, run.answer.answer]; // ['full', 'within']
 */
export function runIso({ measurements, source, nominal, campaign, standard }: IsoRequest): Outcome<IsoRun> {
  const result = checkIso(measurements, nominal, campaign, source);
  if (!result.ok) return result;
  const statements = [...isoStatements(result.value), ...notJudged(standard)];
  const answer = checkAnswer({
    rows: [],
    statements,
    refusals: new Map(),
    areFixesRefused: false,
    rowsSkipped: 0,
    doubtfulPoints: 0,
  });
  return success({ result: result.value, statements, answer }, result.problems);
}
