import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import type { OccupationCounter } from '../occupations/occupation-counter.js';

/** An occupation that a file of names promises. */
export interface NamedOccupation {
  readonly pointId: string;
  readonly poleLengthM: number | null;
}

/**
 * The point of an occupation that was named and has no epoch: rejected, since a point that was meant to be measured and
 * was not is no less missing for having no rows.
 *
 * Given: the occupation; the counter that numbers those of its point; how many cells pass through a row.
 */
export function missingOccupation(
  { pointId, poleLengthM }: NamedOccupation,
  counter: Pick<OccupationCounter, 'next'>,
  passThroughCells: number,
): ReducedPoint {
  return {
    pointId,
    occupation: String(counter.next(pointId)),
    code: '',
    baseId: null,
    setupKey: null,
    poleLengthM,
    baseline: null,
    firstEpochMs: null,
    lastEpochMs: null,
    epochsUsed: 0,
    epochsRejected: 0,
    effectiveEpochs: null,
    position: null,
    uncertainty: null,
    summary: null,
    verdict: 'rejected',
    reasons: ['point-no-epochs'],
    passThrough: Array.from({ length: passThroughCells }, () => ''),
    place: { sourceIndex: 0, line: 0 },
  };
}
