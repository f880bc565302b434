import type { PlanPoint } from '../../../../core/planning/plan-point.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { AS_GIVEN } from '../../../../io/tables/columns/cells/decimals.js';
import type { BaseTie, ExcludedCandidate, SitingFound } from '../../../../tasks/plan/place-bases.js';
import type { PlanRange } from '../../../../tasks/plan/targets/range-finder.js';
import type { ToleranceRange } from '../../../../tasks/plan/tolerance-ranges.js';

/** A candidate in the ranking of all of them. */
export type RankedCandidate = Extract<SitingFound, { readonly kind: 'best' }>['ranking'][number];

/** Two neighbouring bases, with the names of the points to observe from both. */
export interface NamedTie extends Pick<BaseTie, 'baseA' | 'baseB' | 'enough'> {
  readonly pointIds: readonly string[];
}

/** Decimals of a distance over the usable range. */
export const RATIO_DECIMALS = 6;

const TOLERANCE = 'a pair of tolerances that occurs, 95 %';

/** The bases of a plan. */
export const BASE_COLUMNS: readonly Column<never, PlanPoint>[] = [
  column({
    name: 'base_id',
    kind: 'id',
    get: ({ id }) => id,
    describe: 'the base; `free` is the free place, `base` that of `--base`',
  }),
  column({
    name: 'latitude_deg',
    kind: 'latitude',
    unit: 'deg',
    get: ({ latitudeDeg }) => latitudeDeg,
    describe: 'latitude, north positive',
  }),
  column({
    name: 'longitude_deg',
    kind: 'longitude',
    unit: 'deg',
    get: ({ longitudeDeg }) => longitudeDeg,
    describe: 'longitude, east positive',
  }),
  column({
    name: 'ellipsoidal_height_m',
    kind: 'number',
    unit: 'm',
    get: ({ ellipsoidalHeightM }) => ellipsoidalHeightM,
    describe: 'height above the ellipsoid',
  }),
];

/** The ranking of the candidates, each as the only base. */
export const RANKING_COLUMNS: readonly Column<never, RankedCandidate>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ candidate }) => candidate.id, describe: 'the candidate' }),
  column({
    name: 'worst_ratio',
    kind: 'number',
    decimals: RATIO_DECIMALS,
    get: ({ worstRatio }) => worstRatio,
    describe: 'largest distance over usable range; up to 1 it serves every point',
  }),
  column({
    name: 'worst_distance_m',
    kind: 'number',
    unit: 'm',
    get: ({ worstDistanceM }) => worstDistanceM,
    describe: 'distance to the farthest point',
  }),
  column({
    name: 'mean_distance_m',
    kind: 'number',
    unit: 'm',
    get: ({ meanDistanceM }) => meanDistanceM,
    describe: 'mean distance to the points',
  }),
  column({
    name: 'distance_95_m',
    kind: 'number',
    unit: 'm',
    get: ({ distance95M }) => distance95M,
    describe: 'distance that 95 % of the points do not exceed',
  }),
  column({
    name: 'served',
    kind: 'whole',
    get: ({ servedCount }) => servedCount,
    describe: 'points within range',
  }),
  column({
    name: 'worst_point_ids',
    kind: 'codes',
    get: ({ worstPoints }) => worstPoints,
    describe: 'the points at the largest ratio, as a list',
  }),
  column({
    name: 'tie_class',
    kind: 'whole',
    get: ({ tieClass }) => tieClass,
    describe: 'steps of `--tie-percent` by which it is worse than the best; 0 counts as equal',
  }),
  column({
    name: 'cellular',
    kind: 'yes-no',
    get: ({ candidate }) => candidate.cellular,
    describe: 'whether the mobile network reaches the place, true or false',
  }),
  column({
    name: 'sky_score',
    kind: 'number',
    decimals: AS_GIVEN,
    get: ({ candidate }) => candidate.skyScore,
    describe: 'openness of the sky',
  }),
  column({
    name: 'cost',
    kind: 'number',
    decimals: AS_GIVEN,
    get: ({ candidate }) => candidate.cost,
    describe: 'cost of the place',
  }),
];

/** Candidates left out. */
export const EXCLUDED_COLUMNS: readonly Column<never, ExcludedCandidate>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ id }) => id, describe: 'the candidate' }),
  column({ name: 'reason', kind: 'word', get: ({ reason }) => reason, describe: 'the demand it does not meet' }),
];

/** Pairs of bases that are tied together by points observed from both. */
export const TIE_COLUMNS: readonly Column<never, NamedTie>[] = [
  column({ name: 'base_a', kind: 'id', get: ({ baseA }) => baseA, describe: 'the two bases' }),
  column({ name: 'base_b', kind: 'id', get: ({ baseB }) => baseB, describe: 'the two bases' }),
  column({
    name: 'enough',
    kind: 'yes-no',
    get: ({ enough }) => enough,
    describe: 'whether the points are three or more, true or false',
  }),
  column({
    name: 'point_ids',
    kind: 'codes',
    get: ({ pointIds }) => pointIds,
    describe: 'the points to observe from both, the most evenly served first, as a list',
  }),
];

/** Pairs of tolerances, before their ranges under each of the conditions. */
export const RANGE_COLUMNS: readonly Column<never, ToleranceRange>[] = [
  column({
    name: 'tolerance_horizontal_m',
    kind: 'number',
    unit: 'm',
    get: ({ toleranceHorizontalM }) => toleranceHorizontalM,
    describe: TOLERANCE,
  }),
  column({
    name: 'tolerance_vertical_m',
    kind: 'number',
    unit: 'm',
    get: ({ toleranceVerticalM }) => toleranceVerticalM,
    describe: TOLERANCE,
  }),
  column({ name: 'points', kind: 'whole', get: ({ targets }) => targets, describe: 'points that have it' }),
];

/** How far a pair of tolerances reaches under one of the conditions. */
export const REACH_COLUMNS: readonly Column<never, PlanRange>[] = [
  column({
    name: 'range_m',
    kind: 'number',
    unit: 'm',
    get: ({ rangeM }) => rangeM,
    describe: 'longest baseline at equal heights that meets both',
  }),
  ...(['horizontal', 'vertical'] as const).flatMap((axis): readonly Column<never, PlanRange>[] => [
    column({
      name: `range_${axis}_m`,
      kind: 'number',
      unit: 'm',
      get: (range: PlanRange) => range[axis]?.rangeM ?? null,
      describe: `longest baseline that meets the ${axis} one`,
    }),
    column({
      name: `range_${axis}_status`,
      kind: 'word',
      get: (range: PlanRange) => range[axis]?.status ?? null,
      describe: 'whether there is one: `found`, `tolerance-below-constant` or `unlimited`',
    }),
  ]),
];
