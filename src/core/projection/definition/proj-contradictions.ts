import type { ProjNumber } from '../projection-methods.js';

/**
 * What a PROJ string says twice and differently, in words; programs pick one of the two, and not the
 * same one.
 *
 * Given: the projection's PROJ name and the numbers as written. Returned: one sentence for each
 * contradiction.
 */
export function projContradictions(
  projection: string,
  numbers: Readonly<Partial<Record<ProjNumber, number>>>,
): readonly string[] {
  const { lat_0: origin = 0, lat_ts: trueScale, k_0: scale = 1 } = numbers;
  if (trueScale === undefined) return [];
  const found: string[] = [];
  const written = `+lat_ts=${String(trueScale)}`;
  if (scale !== 1) found.push(`${written} and +k_0=${String(scale)} both state the scale`);
  if (projection === 'stere') {
    if (Math.abs(origin) !== 90)
      found.push(`${written} states a scale about a pole, and +lat_0=${String(origin)} is not one`);
    else if (origin * trueScale < 0) found.push(`${written} lies about the other pole than +lat_0=${String(origin)}`);
  } else if (Math.abs(trueScale) === 90) found.push(`${written} is a pole, where ${projection} has no scale`);
  return found;
}
