import { correlationAfter } from '../../../core/observation/repeats/occupation-estimate.js';
import type { CorrelationTimes } from '../../../core/observation/repeats/occupation-estimate.js';
import { sumCovariance, ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import type { CovarianceAt, SharedError, SharedTerm, VectorObservation } from '../../../core/network/network.js';
import type { PrecisionModel } from '../../../core/planning/precision-model.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { entryAt, present } from '../../../records/present.js';

/** A vector of an occupation, with what of it other occupations of its point may share. */
export interface OccupationVector {
  readonly vector: Omit<VectorObservation, 'covariance'>;
  /** What is the occupation's alone, m². */
  readonly independent: LocalCovariance;
  /** Of east and north, of the whole: parts of a stated covariance do not keep it. */
  readonly correlation: number;
  /** Slow errors, m²: those that do not grow with the baseline, and those that do. */
  readonly constant: LocalCovariance;
  readonly growing: LocalCovariance;
  /** Slow errors that grow are shared only by vectors from one mark. */
  readonly markKey: string;
  readonly baselineM: number;
  /** Middle of the occupation, milliseconds since 1970-01-01T00:00:00Z; null: not stated, and its errors are its own. */
  readonly middleMs: number | null;
  readonly precision: PrecisionModel;
}

/** Neighbours in time whose slow errors are correlated by less share nothing: a hundredth of a variance. */
const LEAST_CORRELATION = 0.01;

/** Sigmas are written to a tenth of a millimetre: nothing smaller can be told from 0. */
const LEAST_SIGMA_M = 1e-4;

/** Unit variance, whatever the axes. */
const UNIT: LocalCovariance = { ...ZERO_COVARIANCE, eeM2: 1, nnM2: 1, uuM2: 1 };

/**
 * The vectors with their slow errors: what occupations of one point near in time share becomes unknowns of unit variance.
 *
 * The slow errors of one point are correlated by exp(−D/τ), D between the middles, τ those of the longest of its baselines; those
 * that grow with the baseline only from one mark (`repeat-check.md`). With the triangular root R of that matrix, occupation i has
 * the errors σᵢ Rᵢⱼ eⱼ: the e are independent and the whole equals the full covariance.
 *
 * Given: the vectors of all occupations. Returned: the same in their order, and the errors they share, in the order of their names.
 */
export function withSlowErrors(occupations: readonly OccupationVector[]): {
  readonly vectors: readonly VectorObservation[];
  readonly shared: readonly SharedError[];
} {
  const own = occupations.map(({ independent, constant, growing }) =>
    sumCovariance(independent, sumCovariance(constant, growing)),
  );
  const terms = occupations.map((): SharedTerm[] => []);
  const shared: SharedError[] = [];
  const ofPoint = new Map<string, number[]>();
  occupations.forEach(({ vector, middleMs }, index) => {
    if (middleMs === null) return;
    const list = ofPoint.get(vector.toId);
    if (list === undefined) ofPoint.set(vector.toId, [index]);
    else list.push(index);
  });
  for (const [id, members] of [...ofPoint].sort(([a], [b]) => (a < b ? -1 : 1))) {
    if (members.length < 2) continue;
    const longestM = members.reduce((most, at) => Math.max(most, entryAt(occupations, at).baselineM), 0);
    const times = entryAt(occupations, entryAt(members, 0)).precision.at(longestM, null);
    const add = (name: string, group: readonly number[], part: 'constant' | 'growing'): void => {
      for (const near of clusters(group, occupations, times))
        shareAmong(near, occupations, times, part, { name: `${name} ${id}`, own, terms, shared });
    };
    add('slow error at', members, 'constant');
    const marks = [...new Set(members.map((at) => entryAt(occupations, at).markKey))].sort();
    for (const mark of marks)
      add(
        `slow error from ${mark} to`,
        members.filter((at) => entryAt(occupations, at).markKey === mark),
        'growing',
      );
  }
  return {
    shared: shared.sort((a, b) => (a.name < b.name ? -1 : 1)),
    vectors: occupations.map(({ vector, correlation }, index) => ({
      ...vector,
      covariance: covarianceAt(vector.toId, entryAt(own, index), correlation),
      shared: [...vector.shared, ...entryAt(terms, index)],
    })),
  };
}

/** At least the last digit that points files write, in each axis. */
function covarianceAt(stationId: string, own: LocalCovariance, correlation: number): CovarianceAt {
  const least = LEAST_SIGMA_M ** 2;
  const [ee, nn, uu] = [Math.max(own.eeM2, least), Math.max(own.nnM2, least), Math.max(own.uuM2, least)];
  return {
    stationId,
    local: { ...ZERO_COVARIANCE, eeM2: ee, nnM2: nn, uuM2: uu, enM2: correlation * Math.sqrt(ee * nn) },
  };
}

/** In the order of time, cut where nothing is shared any more: e⁻ᵗ has no memory, so that the pieces are independent. */
function clusters(
  group: readonly number[],
  occupations: readonly OccupationVector[],
  times: CorrelationTimes,
): readonly (readonly number[])[] {
  const timeOf = (at: number): number => middleOf(occupations, at);
  const sorted = [...group].sort((a, b) => timeOf(a) - timeOf(b) || a - b);
  const found: number[][] = [];
  for (const at of sorted) {
    const last = found[found.length - 1];
    const before = last?.[last.length - 1];
    if (last !== undefined && before !== undefined && largest(timeOf(at) - timeOf(before), times) >= LEAST_CORRELATION)
      last.push(at);
    else found.push([at]);
  }
  return found.filter((piece) => piece.length > 1);
}

/** Of an occupation that states its times: others are in no cluster. */
function middleOf(occupations: readonly OccupationVector[], at: number): number {
  return present(entryAt(occupations, at).middleMs, 'the middle of an occupation');
}

function largest(apartMs: number, times: CorrelationTimes): number {
  return Math.max(
    correlationAfter(apartMs / 1000, times.correlationHorizontalS),
    correlationAfter(apartMs / 1000, times.correlationVerticalS),
  );
}

/** Takes the slow errors of a cluster out of `own`, and puts them into unknowns; the last one of each root is one occupation's own. */
function shareAmong(
  near: readonly number[],
  occupations: readonly OccupationVector[],
  times: CorrelationTimes,
  part: 'constant' | 'growing',
  into: {
    readonly name: string;
    readonly own: LocalCovariance[];
    readonly terms: readonly SharedTerm[][];
    readonly shared: SharedError[];
  },
): void {
  const middles = near.map((at) => middleOf(occupations, at) / 1000);
  const plan = rootOf(middles, times.correlationHorizontalS);
  const height = rootOf(middles, times.correlationVerticalS);
  near.forEach((at, i) => {
    const slow = entryAt(occupations, at)[part];
    const [e, n, u] = [Math.sqrt(slow.eeM2), Math.sqrt(slow.nnM2), Math.sqrt(slow.uuM2)];
    const before = entryAt(into.own, at);
    const isLast = i === near.length - 1;
    const [rest, restUp] = isLast ? [entryAt(plan[i]!, i) ** 2, entryAt(height[i]!, i) ** 2] : [0, 0];
    into.own[at] = {
      ...before,
      eeM2: Math.max(0, before.eeM2 - (1 - rest) * slow.eeM2),
      nnM2: Math.max(0, before.nnM2 - (1 - rest) * slow.nnM2),
      uuM2: Math.max(0, before.uuM2 - (1 - restUp) * slow.uuM2),
    };
    for (let j = 0; j <= i && j < near.length - 1; j += 1) {
      const [across, up] = [entryAt(plan[i]!, j), entryAt(height[i]!, j)];
      entryAt(into.terms, at).push({
        error: nameOf(into.name, entryAt(middles, 0), j),
        along: 'local-to',
        factors: [across * e, across * n, up * u],
      });
    }
    if (!isLast)
      into.shared.push({
        name: nameOf(into.name, entryAt(middles, 0), i),
        of: 'slow errors',
        covariance: { stationId: entryAt(occupations, at).vector.toId, local: UNIT },
        isInner: true,
      });
  });
}

function nameOf(name: string, fromS: number, place: number): string {
  return `${name} ${String(fromS)} ${String(place)}`;
}

/** The lower triangular root of the matrix exp(−|tᵢ − tⱼ|/τ) of times in order, by its closed form. */
function rootOf(timesS: readonly number[], tauS: number): readonly (readonly number[])[] {
  return timesS.map((at, i) =>
    timesS.slice(0, i + 1).map((from, j) => {
      const before = j === 0 ? 0 : correlationAfter(from - entryAt(timesS, j - 1), tauS);
      return correlationAfter(at - from, tauS) * Math.sqrt(Math.max(0, 1 - before * before));
    }),
  );
}
