import type { KeplerElements } from '../../src/records/sky/orbit-elements.js';
import { entryAt } from '../../src/records/present.js';

/** The place of each element in a list, as tests/reference/sky-orbits.csv has them. */
const ORDER = [
  'referenceOfWeekS',
  'rootSemiMajorAxis',
  'eccentricity',
  'inclinationRad',
  'nodeRad',
  'perigeeRad',
  'meanAnomalyRad',
  'meanMotionDifferenceRadPerS',
  'nodeRateRadPerS',
  'inclinationRateRadPerS',
  'cucRad',
  'cusRad',
  'crcM',
  'crsM',
  'cicRad',
  'cisRad',
] as const;

/** Kepler elements for the instant 0 from a list of numbers; what else they say is of a healthy GPS satellite. */
export function keplerElements(numbers: readonly number[], more: Partial<KeplerElements> = {}): KeplerElements {
  const named = Object.fromEntries(ORDER.map((name, index) => [name, entryAt(numbers, index)]));
  return {
    ...(named as Record<(typeof ORDER)[number], number>),
    ...{ kind: 'kepler', satellite: 'G01', system: 'GPS', origin: 'broadcast' },
    ...{ referenceMs: 0, isHealthy: true, isGeostationary: false },
    ...more,
  };
}
