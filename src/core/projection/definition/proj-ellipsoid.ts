import { parseDecimal } from '../../numeric/text/decimal-text.js';
import { ownEntry } from '../../numeric/own-entry.js';
import { ellipsoidFrom, type Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { DATUM_ELLIPSOIDS, NAMED_ELLIPSOIDS } from './named-ellipsoids.js';
import { nearestName } from './nearest-name.js';
import type { ProjTokens } from './proj-tokens.js';
import { entryAt } from '../../../records/present.js';

/** Names of the parameters that describe the ellipsoid. */
export const ELLIPSOID_PARAMETERS: readonly string[] = ['ellps', 'datum', 'a', 'b', 'rf', 'f', 'R'];

/**
 * The ellipsoid of a PROJ string: by `+ellps` or `+datum`, or by `+a` with one of `+b`, `+rf` and
 * `+f`, or a sphere by `+R`. There is no default, because programs differ on it.
 *
 * Returned: the ellipsoid, or in words what is wrong.
 */
export function projEllipsoid(tokens: ProjTokens): Ellipsoid | string {
  const given = ELLIPSOID_PARAMETERS.filter((name) => tokens.has(name));
  const key = given.join(' ');
  if (key === '') return 'the ellipsoid is not given: add +ellps, or +a and +rf';
  const datum = tokens.get('datum');
  if (key === 'datum' && typeof datum === 'string') {
    const name = ownEntry(DATUM_ELLIPSOIDS, datum);
    return (name === undefined ? undefined : NAMED_ELLIPSOIDS[name]) ?? `+datum=${datum} is not known: give its +ellps`;
  }
  const named = tokens.get('ellps');
  if (key === 'ellps' && typeof named === 'string') {
    const near = nearestName(named, Object.keys(NAMED_ELLIPSOIDS));
    return (
      ownEntry(NAMED_ELLIPSOIDS, named) ??
      `+ellps=${named} is not known${near === null ? '' : `: did you mean ${near}?`}`
    );
  }
  // A word without a value has none: no text, and no number.
  const texts = given.map((name) => tokens.get(name) ?? '');
  const numbers = texts.map((text) => parseDecimal(text));
  const [first, second] = numbers;
  if (typeof first === 'number' && first > 0 && first < 1e8) {
    if (key === 'R') return ellipsoidFrom('sphere', first, 0);
    if (typeof second === 'number') {
      const name = `a ${String(first)} m`;
      if (key === 'a b' && second > 0 && second <= first) return ellipsoidFrom(name, first, first / (first - second));
      if (key === 'a rf' && second > 1) return ellipsoidFrom(name, first, second);
      if (key === 'a f' && second >= 0 && second < 1) return ellipsoidFrom(name, first, 1 / second);
    }
  }
  return `the ellipsoid cannot be read from ${given.map((name, at) => `+${name}=${entryAt(texts, at)}`).join(' ')}`;
}
