import type { GeocentricPoint } from '../../../records/points/point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import type { EpochResult } from '../../../records/points/reduced-point.js';
import { averageEpochs } from '../epochs/average-epochs.js';
import type { AveragedEpochs } from '../epochs/average-epochs.js';
import { epochResults } from '../epochs/epoch-results.js';
import { occupationSpan } from './occupation-span.js';
import type { OccupationSpan } from './occupation-span.js';
import { pickedList } from '../packing/packed-records.js';
import { scatterOfEpochs } from '../epochs/scatter-of-epochs.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { reducedOf, refusalsOf } from '../epochs/epochs-of-fixes.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { ReducedEpoch } from '../reduction-working.js';
import type { OccupationFixes } from './reduce-occupation.js';

const NONE: readonly number[] = [];
const FIRST: readonly number[] = [0];

/** The epochs at the tips of their poles, which of them count, and their mean. */
export interface Averaging {
  readonly reduced: RecordList<ReducedEpoch>;
  /** Why each is refused. */
  readonly codes: RecordList<readonly ProblemCode[]>;
  readonly accepted: readonly number[];
  readonly averaged: { readonly mean: GeocentricPoint | null; readonly epochs: AveragedEpochs | null };
  readonly epochs: RecordList<EpochResult>;
  readonly span: OccupationSpan;
}

/** Carries the epochs to their tips, refuses and averages. */
export function averagingOf(input: OccupationFixes, setup: ReductionSetup): Averaging {
  const { fixes, base } = input;
  const reduced = reducedOf(fixes, base, setup);
  const codes = refusalsOf(fixes, setup, baselineForLimit(reduced, base, setup));
  const accepted = acceptedOf(codes);
  const averaged = averageOf(input, reduced, accepted, setup);
  const epochs = epochResults(fixes, reduced, codes, accepted, averaged.epochs, averaged.mean);
  return { reduced, codes, accepted, averaged, epochs, span: occupationSpan(fixes, epochs) };
}

/** Positions of the epochs that nothing refuses. */
function acceptedOf(codes: RecordList<readonly ProblemCode[]>): readonly number[] {
  if (codes.length === 1) return codes.at(0)?.length === 0 ? FIRST : NONE;
  const accepted: number[] = [];
  for (let i = 0; i < codes.length; i += 1) if (codes.at(i)?.length === 0) accepted.push(i);
  return accepted;
}

/** The baseline used for the limit, of the first epoch; null where no limit asks for it. */
function baselineForLimit(
  reduced: RecordList<ReducedEpoch>,
  base: PreparedBase | null,
  setup: ReductionSetup,
): number | null {
  const first = reduced.at(0);
  if (setup.acceptance.maxBaselineM === null || base === null || first === undefined) return null;
  const { latitudeDeg, longitudeDeg } = base.origin.geodetic;
  return setup.geodesic.distanceM(latitudeDeg, longitudeDeg, first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
}

function averageOf(
  input: OccupationFixes,
  reduced: RecordList<ReducedEpoch>,
  accepted: readonly number[],
  setup: ReductionSetup,
): { readonly mean: GeocentricPoint | null; readonly epochs: AveragedEpochs | null } {
  const only = accepted[0];
  if (only === undefined) return { mean: null, epochs: null };
  return accepted.length === 1
    ? { mean: reduced.at(only)?.tip ?? null, epochs: null }
    : averageOfSeveral(input, reduced, accepted, setup);
}

function averageOfSeveral(
  input: OccupationFixes,
  reduced: RecordList<ReducedEpoch>,
  accepted: readonly number[],
  setup: ReductionSetup,
): { readonly mean: GeocentricPoint | null; readonly epochs: AveragedEpochs | null } {
  // Most often every epoch is accepted.
  const isWhole = accepted.length === input.fixes.length;
  const fixes = isWhole ? input.fixes : pickedList(input.fixes, accepted);
  const used = isWhole ? reduced : pickedList(reduced, accepted);
  // The first accepted epoch says how the pole was held.
  const pole = reduced.at(accepted[0] ?? 0)?.pole ?? null;
  const epochs = averageEpochs(used, fixes, (middle, spanS) =>
    scatterOfEpochs({ fixes, middle, spanS, base: input.base, pole }, setup),
  );
  return { mean: epochs?.mean ?? null, epochs };
}
