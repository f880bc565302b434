// What the small run must show. Its seed is fixed, so that the same program always gives the same counts; the bounds leave room for
// changes that move a few stands, and none for the faults that they were written against.
import { counted } from './tables.mjs';

/** `at most` or `at least` a share of a job's count. */
export const BOUNDS = [
  { id: 'geodesy', worstM: 0.0001 },
  ...['white', 'correlated', 'third', 'thrice', 'tails'].flatMap((noise) =>
    [2, 3, 5, 7, 12, 20, 60].map((count) => ({ id: `stands/${count}/${noise}`, key: 'not accepted', most: 0.03 })),
  ),
  ...['one epoch off', 'one epoch off in height', 'a step half-way'].flatMap((what) =>
    [2, 5, 30].map((count) => ({ id: `stands/within/${what}/${count}/0.3`, key: 'found', least: 0.95 })),
  ),
  ...['one epoch off', 'one epoch off in height', 'a step half-way'].flatMap((what) =>
    [2, 5, 30].map((count) => ({ id: `stands/within/${what}/${count}/0.1`, key: 'found', least: 0.8 })),
  ),
  { id: 'repeats/2', key: 'points not joined', of: 'points', most: 0.01 },
  { id: 'repeats/5', key: 'points not joined', of: 'points', most: 0.01 },
  { id: 'repeats/2/wrong/0.2', key: 'marked without --combine', least: 0.9 },
  { id: 'repeats/one name, two marks', key: 'points not joined', of: 'points', most: 0.02 },
  { id: 'repeats/two names, two marks', key: 'points not joined', of: 'points', most: 0.02 },
  { id: 'days/model', key: 'all 0', least: 0.95 },
  { id: 'days/model', key: 'in review', of: 'stands', most: 0.015 },
  { id: 'days/model', key: 'accused', most: 0.01 },
  { id: 'days/base 3 m', key: 'in review', of: 'stands', most: 0.02 },
  { id: 'causes/wrong integer/2/least', key: ['first', 'tied'], least: 0.85 },
  { id: 'causes/pole length/2/least', key: ['first', 'tied'], least: 0.85 },
  { id: 'causes/base antenna/2/least', key: ['first', 'tied'], least: 0.85 },
  { id: 'causes/phase centre/0.0905/m', key: 'contradicts', most: 0.1 },
  { id: 'causes/phase centre, base to 8 mm/0.0905/m', key: ['first', 'tied'], least: 0.8 },
  { id: 'causes/control coordinate/2/least', key: ['first', 'tied'], least: 0.85 },
  ...['circle', 'ellipse', 'height'].map((key) => ({
    id: 'coverage/model',
    key,
    of: 'covered of',
    least: 0.92,
    most: 0.98,
  })),
  ...['circle', 'height'].map((key) => ({
    id: 'coverage/joined/once',
    key,
    of: 'covered of',
    least: 0.92,
    most: 0.98,
  })),
  ...['circle', 'height'].map((key) => ({ id: 'coverage/day/estimated/3', key, of: 'covered of', least: 0.88 })),
  { id: 'sites/sigmas stated', key: 'not 0', most: 0.04 },
  { id: 'sites/no sigmas', key: 'not 0', most: 0.03 },
  { id: 'sites/exact', key: 'not 0', most: 0 },
  { id: 'sites/no sigmas/names exchanged', key: 'not 0', least: 0.95 },
];

/** Says each bound that does not hold. Returned: whether all that were measured hold. */
export function judgeBounds(results, say) {
  let holds = true;
  for (const { id, key, of = null, most = 1, least = 0, worstM } of BOUNDS) {
    const result = results[id];
    if (result === undefined) continue;
    if (worstM !== undefined) {
      const found = Math.max(result.placeM, result.gridM);
      if (found >= worstM) say(`${id}: ${(1000 * found).toFixed(3)} mm, not below ${1000 * worstM} mm`);
      holds &&= found < worstM;
      continue;
    }
    const [count, total] = counted(result, key, of);
    const isWithin = total > 0 && count <= most * total && count >= least * total;
    if (!isWithin)
      say(
        `${id}: ${key} ${count} of ${total}, asked for ${least > 0 ? `${100 * least} % at least` : ''}${most < 1 ? ` ${100 * most} % at most` : ''}`,
      );
    holds &&= isWithin;
  }
  return holds;
}
