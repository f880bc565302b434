import { assignPoints } from '../../core/planning/siting/assign-points.js';
import { bestCandidate, rankCandidates } from '../../core/planning/siting/best-candidate.js';
import type { CandidateRank } from '../../core/planning/siting/best-candidate.js';
import { exclusionReason } from '../../core/planning/siting/candidate-filter.js';
import type { ExclusionReason } from '../../core/planning/siting/candidate-filter.js';
import type { DistanceMatrix } from '../../core/planning/siting/distance-matrix.js';
import { fewestBases } from '../../core/planning/siting/fewest-bases.js';
import { kBases } from '../../core/planning/siting/k-bases.js';
import { oneCentre } from '../../core/planning/siting/one-centre.js';
import { overlapTies } from '../../core/planning/siting/overlap-ties.js';
import type { BaseCandidate, PlanPoint } from '../../core/planning/plan-point.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { CandidateChoice, PlanSetup, PlanTarget } from './targets/plan-target.js';
import { createRangeFinder } from './targets/range-finder.js';
import type { RangeFinder } from './targets/range-finder.js';
import { columnsOf, ratioMatrix, ratioRows } from './targets/ratio-matrix.js';
import { entryAt } from '../../records/present.js';

/** A candidate that was left out, and why. */
export interface ExcludedCandidate {
  readonly id: string;
  readonly reason: ExclusionReason;
}

/** How the bases were found. Ratios are distance over usable range. */
export type SitingFound =
  | { readonly kind: 'given' }
  | {
      readonly kind: 'free';
      readonly worstRatio: number | null;
      readonly worstDistanceM: number;
      readonly lowerBoundM: number;
      readonly lowerBoundRatio: number | null;
      readonly support: readonly string[];
      readonly iterations: number;
    }
  | {
      readonly kind: 'best';
      readonly ranking: readonly (Omit<CandidateRank, 'candidate' | 'worstPoints'> & {
        readonly candidate: BaseCandidate;
        readonly worstPoints: readonly string[];
      })[];
    }
  | { readonly kind: 'k'; readonly worstRatio: number; readonly lowerBoundRatio: number; readonly exact: boolean }
  | {
      readonly kind: 'fewest';
      readonly exact: boolean;
      readonly lowerBound: number;
      readonly unserved: readonly string[];
    };

/** Two neighbouring bases and the targets to observe from both. */
export interface BaseTie {
  readonly baseA: string;
  readonly baseB: string;
  /** Indices of targets, the most evenly served first. */
  readonly targets: readonly number[];
  readonly enough: boolean;
}

export interface PlacedBases {
  readonly bases: readonly PlanPoint[];
  /** Per target: which of `bases` serves it. */
  readonly baseOf: Int32Array;
  readonly found: SitingFound;
  readonly excluded: readonly ExcludedCandidate[];
  readonly ties: readonly BaseTie[];
  /** True: no tolerance can be met anywhere, so the place makes the largest distance smallest. */
  readonly equalRanges: boolean;
  /** How many targets have a tolerance below what does not grow with distance: they have no say in the place. */
  readonly withoutRange: number;
}

/**
 * Where the bases go, and which one serves each target.
 *
 * Given: the setup; at least one target. Returned: see `PlacedBases`. Problems: those of `oneCentre` and `kBases`;
 * value-missing where no candidate meets the demands.
 *
 * @example
 * // GeodSolve: the middle of two points that lie 109639.322 m apart across the 180th meridian.
 * const own = { horizontal: null, vertical: null, correlationHorizontalS: null, correlationVerticalS: null };
 * const sigmas = { poleSigmaM: 0, plumbSigmaDeg: 0, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 };
 * const prediction = {
 *   precision: { conditions: 'normal', combine: 'rss', ...own },
 *   pole: { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
 *   poleSigmas: sigmas,
 *   ...{ baseSigmaHorizontalM: null, baseSigmaVerticalM: null, geoidSigmaM: null, epochCount: 1 },
 * };
 * const limits = { separationS: null, minEpochs: 1, maxEpochs: 60, maxOccupations: 2 };
 * const setup = { geodesic: createGeodesic(WGS84), prediction, conditions: 'normal', limits, siting: { kind: 'free' }, baseErrorM: null };
 * const target = { latitudeDeg: 10, ellipsoidalHeightM: null, toleranceHorizontalM: 0.1, toleranceVerticalM: null, kind: 'point' };
 * const placed = placeBases(setup, [179.5, -179.5].map((longitudeDeg) => ({ ...target, id: String(longitudeDeg), longitudeDeg })));
 * placed.value.bases[0].latitudeDeg; // 10.00037554
 * placed.value.found.worstDistanceM; // 54819.661
 */
export function placeBases(setup: PlanSetup, targets: readonly PlanTarget[]): Outcome<PlacedBases> {
  const ranges = createRangeFinder(setup.prediction, setup.conditions, true);
  const withRange = targets.filter(
    (target) => ranges.at(target.toleranceHorizontalM, target.toleranceVerticalM, null).rangeM > 0,
  );
  const counts = { equalRanges: withRange.length === 0, withoutRange: targets.length - withRange.length };
  const { siting } = setup;
  switch (siting.kind) {
    case 'given':
      return success({
        bases: [siting.base],
        baseOf: new Int32Array(targets.length),
        found: { kind: 'given' },
        excluded: [],
        ties: [],
        ...counts,
      });
    case 'free':
      return freePlace(setup, counts.equalRanges ? targets : withRange, targets.length, ranges, counts);
    default:
      return amongCandidates(setup, siting, targets, ranges, counts);
  }
}

type Counts = Pick<PlacedBases, 'equalRanges' | 'withoutRange'>;

function freePlace(
  setup: PlanSetup,
  asked: readonly PlanTarget[],
  targetCount: number,
  ranges: RangeFinder,
  counts: Counts,
): Outcome<PlacedBases> {
  const weights = Float64Array.from(asked, (target) =>
    counts.equalRanges ? 1 : ranges.at(target.toleranceHorizontalM, target.toleranceVerticalM, null).rangeM,
  );
  const centre = oneCentre(setup.geodesic, asked, weights);
  if (!centre.ok) return centre;
  const { latitudeDeg, longitudeDeg, worstRatio, worstDistanceM, support, lowerBoundRatio, iterations } = centre.value;
  const least = weights.reduce((smallest, weight) => Math.min(smallest, weight), Infinity);
  return success({
    bases: [{ id: 'free', latitudeDeg, longitudeDeg, ellipsoidalHeightM: null }],
    baseOf: new Int32Array(targetCount),
    found: {
      kind: 'free',
      worstRatio: counts.equalRanges ? null : worstRatio,
      worstDistanceM,
      lowerBoundM: lowerBoundRatio * least,
      lowerBoundRatio: counts.equalRanges ? null : lowerBoundRatio,
      support: support.map((index) => entryAt(asked, index).id),
      iterations,
    },
    excluded: [],
    ties: [],
    ...counts,
  });
}

function amongCandidates(
  setup: PlanSetup,
  siting: CandidateChoice &
    ({ readonly kind: 'best' } | { readonly kind: 'fewest' } | { readonly kind: 'k'; readonly k: number }),
  targets: readonly PlanTarget[],
  ranges: RangeFinder,
  counts: Counts,
): Outcome<PlacedBases> {
  const excluded: ExcludedCandidate[] = [];
  const candidates: BaseCandidate[] = [];
  for (const candidate of siting.candidates) {
    const reason = exclusionReason(candidate, siting.demands);
    if (reason === null) candidates.push(candidate);
    else excluded.push({ id: candidate.id, reason });
  }
  if (candidates.length === 0) {
    return failure(
      errorProblem('value-missing', {
        message: `none of ${String(siting.candidates.length)} candidates meets the demands: ${excluded
          .slice(0, 5)
          .map(({ id, reason }) => `${id} ${reason}`)
          .join(', ')}`,
        hint: 'ask for less with --need-cellular, --min-sky-score and --max-cost, or fill in what is unknown',
      }),
    );
  }
  // Targets that no place serves would hide the difference between places.
  const asked = targets
    .map((_, index) => index)
    .filter((index) => {
      const { toleranceHorizontalM, toleranceVerticalM } = entryAt(targets, index);
      return counts.equalRanges || ranges.at(toleranceHorizontalM, toleranceVerticalM, null).rangeM > 0;
    });
  if (siting.kind === 'best')
    return success({ ...bestPlace(setup, siting, candidates, targets, asked, ranges), excluded, ...counts });
  const all = ratioMatrix(ratioRows(setup.geodesic, targets, ranges), candidates, targets);
  const matrix = asked.length === targets.length ? all : columnsOf(all, asked);
  const chosen = choose(siting, candidates, matrix, (index) => entryAt(targets, entryAt(asked, index)).id);
  if (!chosen.ok) return chosen;
  const { indices, found } = chosen.value;
  const assigned = assignPoints(all, indices).base;
  const ties = indices.length < 2 ? [] : overlapTies(matrix, indices);
  const nameOf = (index: number): string => entryAt(candidates, index).id;
  return success({
    bases: indices.flatMap((index) => entryAt(candidates, index)),
    baseOf: assigned.map((candidate) => indices.indexOf(candidate)),
    found,
    excluded,
    ties: ties.map(({ baseA, baseB, points, enough }) => ({
      baseA: nameOf(baseA),
      baseB: nameOf(baseB),
      targets: points.map((point) => entryAt(asked, point)),
      enough,
    })),
    ...counts,
  });
}

/** The best of the candidates, each ranked by its own distances: those of all together would be most of the memory of a run. */
function bestPlace(
  { geodesic }: PlanSetup,
  { tieFraction }: CandidateChoice,
  candidates: readonly BaseCandidate[],
  targets: readonly PlanTarget[],
  asked: readonly number[],
  ranges: RangeFinder,
): Omit<PlacedBases, 'excluded' | keyof Counts> {
  const own = asked.map((index) => entryAt(targets, index));
  const rows = ratioRows(geodesic, own, ranges);
  const row = { distanceM: new Float64Array(own.length), ratio: new Float64Array(own.length) };
  const ranks = rankCandidates(
    candidates,
    (index) => {
      rows(entryAt(candidates, index), row);
      return row;
    },
    tieFraction,
  );
  const ranking = ranks.map(({ candidate, worstPoints, ...rank }) => ({
    ...rank,
    candidate: entryAt(candidates, candidate),
    worstPoints: worstPoints.map((point) => entryAt(own, point).id),
  }));
  return {
    bases: ranking.slice(0, 1).map(({ candidate }) => candidate),
    baseOf: new Int32Array(targets.length),
    found: { kind: 'best', ranking },
    ties: [],
  };
}

interface Chosen {
  readonly indices: readonly number[];
  readonly found: SitingFound;
}

function choose(
  siting: CandidateChoice & ({ readonly kind: 'fewest' } | { readonly kind: 'k'; readonly k: number }),
  candidates: readonly BaseCandidate[],
  matrix: DistanceMatrix,
  targetId: (index: number) => string,
): Outcome<Chosen> {
  switch (siting.kind) {
    case 'k': {
      const best = kBases(candidates, matrix, siting.k);
      if (!best.ok) return best;
      const { bases, worstRatio, lowerBoundRatio, exact } = best.value;
      return success({ indices: bases, found: { kind: 'k', worstRatio, lowerBoundRatio, exact } });
    }
    case 'fewest': {
      const { bases, unserved, exact, lowerBound } = fewestBases(candidates, matrix);
      // Where nobody can be served, the best single place still has the shortest lines.
      const indices =
        bases.length > 0
          ? bases
          : bestCandidate(candidates, matrix, siting.tieFraction)
              .slice(0, 1)
              .map(({ candidate }) => candidate);
      return success({ indices, found: { kind: 'fewest', exact, lowerBound, unserved: unserved.map(targetId) } });
    }
  }
}
