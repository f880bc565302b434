import { toEastNorth } from '../../../core/adjustment/site/site-axes.js';
import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { normalQuantile } from '../../../core/numeric/distributions/normal-quantile.js';
import { HEIGHT_TRANSFER_LEVEL } from '../../../core/quality/decision-levels.js';
import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { dot } from '../../../core/heights/height-surface.js';
import { trendRow } from '../../../core/heights/height-trend.js';
import { transferHeight } from '../../../core/heights/height-transfer.js';
import type { HeightTransfer, TransferEnd } from '../../../core/heights/height-transfer.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { LineRow } from '../../../records/network-rows.js';
import { present } from '../../../records/present.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { Answer } from '../../../records/runs/run-answer.js';
import type { ControlPair, MeasuredPoint } from '../control/pair-control.js';
import { ownVarianceM2 } from '../control/shared-base.js';
import type { SharedBase } from '../control/shared-base.js';

/** A height carried from one point to another, held against what is known. */
export interface TestedTransfer extends HeightTransfer {
  /** What it is held against: the heights of two benchmarks, or a levelled line. */
  readonly kind: 'benchmarks' | 'levelled';
  readonly fromId: string;
  readonly toId: string;
  readonly knownM: number;
  /** Misclosure over its sigma. */
  readonly testValue: number;
  readonly isWithinClass: boolean;
  /** no: beyond what its sigma allows, over all lines of its kind together; review: beyond the class only. */
  readonly answer: Answer;
}

/** What heights are carried with. */
export interface TransferSetup {
  readonly surface: HeightSurface;
  readonly heightKind: 'orthometric' | 'ellipsoidal';
  readonly sourceAxes: SiteAxes;
  readonly sharedOf: (point: MeasuredPoint) => SharedBase | null;
  /** mm for √km. */
  readonly classMm: number;
}

/** Heights carried between every two benchmarks that have one, fitted or kept out. */
export function benchmarkTransfers(pairs: readonly ControlPair[], setup: TransferSetup): readonly TestedTransfer[] {
  const ends = pairs.flatMap((pair) => {
    const { controlHeightM, measuredHeightM, source, heightVarianceM2, shared } = pair;
    if (controlHeightM === null || measuredHeightM === null) return [];
    const trendM = trendAtM(setup.surface, source);
    const end = {
      place: source,
      heightM: measuredHeightM,
      trendM,
      ownM2: heightVarianceM2,
      sharedWith: shared?.id ?? null,
    };
    return [{ pointId: pair.control.pointId, controlHeightM, end }];
  });
  const found = ends.flatMap((from, at) =>
    ends.slice(at + 1).map((to) => {
      const known = { differenceM: to.controlHeightM - from.controlHeightM, varianceM2: 0 };
      const transfer = transferHeight(from.end, to.end, known, setup.surface, setup.classMm);
      return { ...transfer, fromId: from.pointId, toId: to.pointId, knownM: known.differenceM };
    }),
  );
  return found.map((one) => tested(one, 'benchmarks', found.length));
}

/**
 * Levelled lines against the heights carried along them. Given: the lines; every measured point; the name of the file of lines.
 * Problems: value-unknown-id, value-missing for an end that was not measured, has no height, or occurs more than once.
 * Warnings: site-transfer-exceeds for a line beyond what its sigma allows.
 */
export function levelledTransfers(
  lines: readonly LineRow[],
  measured: readonly MeasuredPoint[],
  setup: TransferSetup,
  source: string,
): Outcome<readonly TestedTransfer[]> {
  const problems: Problem[] = [];
  const byId = new Map<string, MeasuredPoint | null>();
  for (const point of measured) byId.set(point.row.pointId, byId.has(point.row.pointId) ? null : point);
  const endOf = (id: string, line: number): TransferEnd | null => {
    const point = byId.get(id);
    const end = point == null ? null : measuredEnd(point, setup);
    if (end === null)
      problems.push(
        errorProblem(point === undefined ? 'value-unknown-id' : 'value-missing', {
          message: `${id} of a levelled line ${point === undefined ? 'was not measured' : point === null ? 'was measured more than once' : `has no measured ${setup.heightKind} height`}`,
          where: { source, line },
          received: id,
          hint:
            point === null
              ? 'combine occupations first: reduce-points --combine'
              : 'mend the id, or leave the line out',
        }),
      );
    return end;
  };
  const found = lines.flatMap(({ fromId, toId, valueM, sigmaM, place: { line } }) => {
    const [from, to] = [endOf(fromId, line), endOf(toId, line)];
    if (from === null || to === null) return [];
    const known = { differenceM: valueM, varianceM2: sigmaM * sigmaM };
    return [{ ...transferHeight(from, to, known, setup.surface, setup.classMm), fromId, toId, knownM: valueM, line }];
  });
  if (problems.length > 0) return failureOf(problems);
  const rows = found.map((one) => tested(one, 'levelled', found.length));
  const warnings = rows.flatMap((row, at) =>
    row.answer === 'no'
      ? [
          warningProblem('site-transfer-exceeds', {
            message: `levelling from ${row.fromId} to ${row.toId} and the heights carried by the surface differ by more than their sigma allows`,
            where: { source, line: present(found[at], 'a line').line },
            hint: 'look for a blunder in either, or a signal stated too small',
          }),
        ]
      : [],
  );
  return success(rows, warnings);
}

function trendAtM({ trend, frame, coefficients }: HeightSurface, place: TransferEnd['place']): number {
  return dot(trendRow(trend, frame, place), coefficients);
}

function measuredEnd(
  point: MeasuredPoint,
  { surface, heightKind, sourceAxes, sharedOf }: TransferSetup,
): TransferEnd | null {
  const { station, row } = point;
  const heightM = heightKind === 'orthometric' ? station.orthometricHeightM : station.ellipsoidalHeightM;
  if (heightM === null) return null;
  const place = toEastNorth(sourceAxes, station.gridFirst, station.gridSecond);
  const shared = sharedOf(point);
  // Nothing where none is stated.
  const ownM2 = ownVarianceM2((row.sigmaUpM ?? 0) ** 2, shared?.verticalM2 ?? 0);
  return { place, heightM, trendM: trendAtM(surface, place), ownM2, sharedWith: shared?.id ?? null };
}

function tested(
  transfer: HeightTransfer & Pick<TestedTransfer, 'fromId' | 'toId' | 'knownM'>,
  kind: TestedTransfer['kind'],
  of: number,
): TestedTransfer {
  const testValue = transfer.misclosureM / transfer.sigmaM;
  const isWithinClass = Math.abs(transfer.misclosureM) <= transfer.classLimitM;
  const most = normalQuantile(1 - HEIGHT_TRANSFER_LEVEL / (2 * of));
  const answer = Math.abs(testValue) > most ? 'no' : isWithinClass ? 'within' : 'review';
  return { ...transfer, kind, testValue, isWithinClass, answer };
}
