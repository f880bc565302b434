import type { SiteEstimate } from '../../core/frames/realisations/site-estimate.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { entryAt, present } from '../../records/present.js';
import { columnsOf, sinexEpochYear, sinexNumber } from './sinex-fields.js';
import { sinexCovariance } from './sinex-matrix.js';
import { estimateColumn, unreadable } from './sinex-read.js';
import type { SinexFile, SinexLine } from './sinex-read.js';

const POSITION = ['STAX', 'STAY', 'STAZ'] as const;
const VELOCITY = ['VELX', 'VELY', 'VELZ'] as const;
const UNITS: Readonly<Record<string, string>> = { STA: 'm', VEL: 'm/y' };

/** Arp over mark of a site, metres up, north and east, as SITE/ECCENTRICITY has it. */
export interface SinexEccentricity {
  readonly upM: number;
  readonly northM: number;
  readonly eastM: number;
}

/** A site as a SINEX file estimates it. */
export interface SinexSite extends SiteEstimate {
  readonly code: string;
  readonly solution: string;
  /** Null where the file has none, or has it along X, Y, Z. */
  readonly eccentricity: SinexEccentricity | null;
}

/**
 * The coordinate of a site, with its velocity where it is estimated and the covariance of all.
 *
 * Given: the file; the four-letter code, case does not matter; the epoch asked for, decimal year, by which one of several
 * solutions is chosen (that whose data span it, else the last). Returned: the mark of the site.
 * Problems: sinex-unreadable; sinex-site-unknown with the codes there are, and where a site has several points.
 * Reference: SINEX 2.02, SOLUTION/ESTIMATE, SOLUTION/EPOCHS, SITE/ECCENTRICITY.
 */
export function sinexSite(file: SinexFile, code: string, epochYear: number | null): Outcome<SinexSite> {
  const lines = file.blocks.get('SOLUTION/ESTIMATE') ?? [];
  const wanted = code.trim().toUpperCase();
  const ofSite = lines.filter((line) => estimateColumn(line, 'code').toUpperCase() === wanted);
  const positions = ofSite.filter((line) => estimateColumn(line, 'type') === 'STAX');
  if (positions.length === 0) {
    const codes = [
      ...new Set(
        lines.filter((line) => estimateColumn(line, 'type') === 'STAX').map((line) => estimateColumn(line, 'code')),
      ),
    ];
    return unknown(`the solution has no site ${code}`, codes.slice(0, 20).join(', '));
  }
  const points = [...new Set(positions.map((line) => estimateColumn(line, 'point')))];
  if (points.length > 1)
    return unknown(`site ${code} has several points: ${points.join(', ')}`, 'a file with one of them');
  const solutions = positions.map((line) => estimateColumn(line, 'solution'));
  const solution = chosenSolution(file, wanted, solutions, epochYear);
  const chosen = ofSite.filter((line) => estimateColumn(line, 'solution') === solution);
  return estimateOf(file, chosen, wanted, solution);
}

function estimateOf(file: SinexFile, lines: readonly SinexLine[], code: string, solution: string): Outcome<SinexSite> {
  const values: number[] = [];
  const sigmas: number[] = [];
  const indices: number[] = [];
  let epochYear: number | null = null;
  const hasVelocity = lines.some((line) => estimateColumn(line, 'type') === 'VELX');
  for (const type of hasVelocity ? [...POSITION, ...VELOCITY] : POSITION) {
    const line = lines.find((one) => estimateColumn(one, 'type') === type);
    if (line === undefined) return unknown(`site ${code} has no ${type} in solution ${solution}`, type);
    const unit = estimateColumn(line, 'unit');
    const wanted = UNITS[type.slice(0, 3)];
    if (unit !== wanted) return unreadable(line.line, `${type} of ${code} is in ${unit}`, wanted ?? 'm');
    const [index, value, sigma] = (['index', 'value', 'sigma'] as const).map((name) =>
      sinexNumber(estimateColumn(line, name)),
    );
    const epoch = sinexEpochYear(estimateColumn(line, 'epoch'));
    if (index == null || value == null || sigma == null || epoch === null)
      return unreadable(
        line.line,
        `the line of ${type} of ${code} has no index, epoch, value or sigma`,
        'the columns of SOLUTION/ESTIMATE',
      );
    if (epochYear !== null && epoch !== epochYear)
      return unreadable(line.line, `${type} of ${code} has another reference epoch than STAX`, String(epochYear));
    epochYear = epoch;
    values.push(value);
    sigmas.push(sigma);
    indices.push(index);
  }
  const covariance = sinexCovariance(file, indices, sigmas);
  if (!covariance.ok) return covariance;
  const [xM = 0, yM = 0, zM = 0, vx = 0, vy = 0, vz = 0] = values;
  return success({
    code,
    solution,
    referenceEpochYear: present(epochYear, 'the epoch of STAX'),
    position: { xM, yM, zM },
    velocity: hasVelocity ? { xMPerYear: vx, yMPerYear: vy, zMPerYear: vz } : null,
    covariance: covariance.value,
    eccentricity: eccentricityOf(file, code),
  });
}

/** The solution whose data span the epoch; else the last. */
function chosenSolution(file: SinexFile, code: string, solutions: readonly string[], epochYear: number | null): string {
  const spans = (file.blocks.get('SOLUTION/EPOCHS') ?? []).filter(
    ({ text }) => columnsOf(text, 2, 5).toUpperCase() === code,
  );
  const holding = spans.find(({ text }) => {
    const [start, end] = [sinexEpochYear(columnsOf(text, 17, 28)), sinexEpochYear(columnsOf(text, 30, 41))];
    return epochYear !== null && (start === null || start <= epochYear) && (end === null || epochYear <= end);
  });
  const named = holding === undefined ? '' : columnsOf(holding.text, 10, 13);
  return solutions.includes(named) ? named : entryAt(solutions, solutions.length - 1);
}

function eccentricityOf(file: SinexFile, code: string): SinexEccentricity | null {
  const lines = file.blocks.get('SITE/ECCENTRICITY') ?? [];
  const found = lines.findLast(({ text }) => columnsOf(text, 2, 5).toUpperCase() === code)?.text;
  if (found === undefined || columnsOf(found, 43, 45) !== 'UNE') return null;
  const [upM, northM, eastM] = [columnsOf(found, 47, 54), columnsOf(found, 56, 63), columnsOf(found, 65, 72)].map(
    sinexNumber,
  );
  return upM == null || northM == null || eastM == null ? null : { upM, northM, eastM };
}

function unknown(message: string, expected: string): Outcome<never> {
  return failure(errorProblem('sinex-site-unknown', { message, expected }));
}
