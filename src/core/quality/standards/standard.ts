import { constantLimit } from './limit-rule.js';
import type { LimitRule } from './limit-rule.js';

/** How far the text of a standard was seen. */
export type StandardRecall = 'published' | 'second hand' | 'from memory';

/** Limits on epochs and occupations that a standard asks for; null: none. */
export interface StandardAcceptance {
  readonly maxPdop: number | null;
  readonly minSatellites: number | null;
  readonly maxBaselineM: number | null;
  readonly minDurationS: number | null;
  readonly minOccupations: number;
  readonly minSeparationS: number;
  /** Different bases asked for; 1: no more than one. */
  readonly minBases: number;
}

/** A published standard as data: what it asks and what it lets one say. */
export interface Standard {
  readonly id: string;
  readonly title: string;
  /** Key of docs/references.md, and the place in it. */
  readonly source: string;
  readonly locator: string;
  readonly recall: StandardRecall;
  readonly asks: readonly string[];
  /** How it is worked out: rules for each difference, or a procedure of its own. */
  readonly kind: 'limits' | 'nssda' | 'classes' | 'iso-17123-8';
  readonly rules: readonly LimitRule[];
  readonly acceptance: StandardAcceptance | null;
  /** What the standard also asks and files of points and fixes do not show: no verdict covers it. */
  readonly notJudged: readonly string[];
}

const two = (name: string, horizontalM: number, verticalM: number): readonly LimitRule[] => [
  constantLimit(`${name} horizontal`, '2d', horizontalM, 0.95),
  constantLimit(`${name} vertical`, 'up', verticalM, 0.95),
];

/** A real-time accuracy class of one base: its number, limits and RMS in metres, and what it asks. */
export function realTimeClass(
  number: number,
  horizontalM: number,
  verticalM: number,
  rmsM: number,
  acceptance: StandardAcceptance,
): Standard {
  const { maxPdop, minSatellites, maxBaselineM, minDurationS, minOccupations, minBases } = acceptance;
  return {
    id: `single-base-rt${String(number)}`,
    title: `single-base real-time accuracy class RT${String(number)}`,
    source: 'NGS-RT-2011',
    locator: 'chapter V, class table',
    recall: 'from memory',
    asks: [
      `95 % of differences within ${String(horizontalM)} m in plan and ${String(verticalM)} m in height`,
      `PDOP at most ${String(maxPdop)}, satellites at least ${String(minSatellites)}, ${maxBaselineM === null ? 'any baseline with a fixed solution' : `baseline at most ${String(maxBaselineM / 1000)} km`}, ${String(minDurationS)} s or more`,
      `${minOccupations > 1 ? 'two occupations, 4 hours apart in the time of day' : 'no repeat'}${minBases > 1 ? `; ${String(minBases)} bases` : ''}`,
    ],
    kind: 'limits',
    rules: two(`RT${String(number)}`, horizontalM, verticalM),
    acceptance,
    notJudged: [
      `the RMS of the solution (at most ${String(rmsM)} m)`,
      ...(minOccupations > 1 ? ['a new initialisation for each occupation'] : []),
      ...(minBases > 1 ? ['that the bases are among the points of the calibration'] : []),
      'conditions of the sky, multipath and communication',
    ],
  };
}

/** An order of vectors by a constant, metres, and a proportion, ppm, with or without a cap. */
export function proportionOrder(
  id: string,
  title: string,
  constantM: number,
  ppm: number,
  capM: number | null,
  capRecall: StandardRecall,
): Standard {
  const rule: LimitRule = {
    name: title,
    axis: '2d',
    probability: 0.95,
    combine: 'rss',
    constantM,
    ppm,
    distanceOffsetM: 0,
    perRootKmM: 0,
    floorM: null,
    capM,
  };
  return {
    id,
    title,
    source: 'LINZ-2010',
    locator:
      'orders of cadastral marks: constant and proportion; rule 3.1 as its guideline gives it: root-sum-square and cap of non-boundary marks',
    recall: 'published',
    asks: [
      `difference of a vector within root-sum-square of ${String(constantM)} m and ${String(ppm)} ppm${capM === null ? '' : `, at most ${String(capM)} m${capRecall === 'published' ? '' : ` (the cap of this class ${capRecall})`}`} (95 %)`,
      'superseded by later rules; for comparison only',
    ],
    kind: 'limits',
    rules: [rule],
    acceptance: null,
    notJudged: [
      'vectors between marks: each point is judged against its base or control alone',
      'the second tier, about half as large again, that holds for all marks, and adopted work',
      'witnessing of boundary points, and heights',
    ],
  };
}
