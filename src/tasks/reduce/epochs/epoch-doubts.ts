import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import type { Fix } from '../../../records/points/fix.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

const TIME_COLUMN = { column: 'epoch_utc' } as const;

/**
 * What to say of a single epoch without a time: an error after an epoch of its point that has one, since
 * the occupation would fall apart in silence; else a warning, that it is a point of its own.
 */
export function timelessProblem(fix: Fix, last: Fix | null): Problem {
  const isMixed =
    last !== null &&
    last.pointId === fix.pointId &&
    last.place.sourceIndex === fix.place.sourceIndex &&
    last.epochMs !== null &&
    last.epochCount === 1;
  return isMixed
    ? mixed(fix)
    : warningProblem('time-missing', {
        message: 'rows have no time: each of them is a point of its own',
        where: TIME_COLUMN,
        hint: 'give epoch_utc to join the epochs of an occupation; a row that is a mean already says so with epoch_count',
      });
}

/** time-missing: of two rows of one point that follow each other, one has a time and the other has none. */
export function mixed(fix: Fix): Problem {
  const words =
    fix.epochMs === null ? 'has no time, and the row before it has one' : 'has a time, and the row before it has none';
  return errorProblem('time-missing', {
    message: `this row of point ${fix.pointId} ${words}`,
    where: TIME_COLUMN,
    hint: 'give every row its time, or leave the row out',
  });
}

/** epoch-repeated: a warning for a row that repeats the one before it in everything, else an error. */
export function repeated(fix: Fix, isSame: boolean): Problem {
  const time = fix.epochMs === null ? '' : formatUtc(fix.epochMs);
  return isSame
    ? warningProblem('epoch-repeated', {
        message: `the epoch ${time} of point ${fix.pointId} stands twice, and counts once`,
        where: TIME_COLUMN,
      })
    : errorProblem('epoch-repeated', {
        message: `the epoch ${time} of point ${fix.pointId} stands twice with other values`,
        received: time,
        where: TIME_COLUMN,
        hint: 'keep one of the two',
      });
}

/** Whether two fixes say the same in everything but their place in the input. */
export function sameEpoch(a: Fix, b: Fix): boolean {
  return JSON.stringify({ ...a, place: null }) === JSON.stringify({ ...b, place: null });
}
