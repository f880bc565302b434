import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { PointInput } from './points-read.js';

/** Columns of epochs as a receiver gives them: two that every such file has, and some of which it has one. */
const OF_EPOCHS = ['epoch_utc', 'solution'] as const;
const OF_RECEIVERS = ['correction_age_s', 'satellites_used', 'pdop', 'pole_length_m'] as const;
/** Columns that a reduction adds. */
const OF_POINTS = ['occupation', 'epochs_used', 'verdict'] as const;

/** points-look-raw, a warning, where the columns of a file of points are those of raw fixes; null where they are not. */
export function rawLook(input: Pick<PointInput, 'has' | 'passThroughNames'>, source: string): Problem | null {
  const passing = new Set(input.passThroughNames.map((name) => name.toLowerCase()));
  const has = (name: string): boolean => input.has(name) || passing.has(name);
  if (!OF_EPOCHS.every(has) || !OF_RECEIVERS.some(has) || OF_POINTS.some(has)) return null;
  return warningProblem('points-look-raw', {
    message: `the columns ${OF_EPOCHS.join(' and ')} are those of raw fixes: as points their base, pole and antenna are not reduced, and every epoch counts as an occupation`,
    where: { source },
    hint: 'reduce them first: pegbook reduce-points',
  });
}
