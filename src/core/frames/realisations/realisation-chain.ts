import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { operationFrameNamed, operationFrameOf } from '../operations/operation-frames.js';
import type { OperationFrame } from '../operations/operation-frames.js';
import { findOperations, operationByCode } from '../operations/operations.js';
import type { OperationMatch } from '../operations/operations.js';
import type { PlateModelKey } from '../plates/plate-models.js';
import { platePole } from '../plates/plate-pole.js';
import type { Motion, MotionBy } from '../plates/point-motion.js';
import type { ShiftDirection } from '../shifts/shift-definition.js';
import { realisationOf } from './realisation-table.js';
import type { Realisation } from './realisation-table.js';

/** The model that a chain moves by where none is named: the newest. */
export const CHAIN_PLATE_MODEL: PlateModelKey = 'itrf2020';

/** One link of a chain: a published operation at an epoch, or a motion in time. */
export type ChainLink =
  | { readonly kind: 'operation'; readonly match: OperationMatch; readonly epochYear: number }
  | { readonly kind: 'motion'; readonly motion: Motion };

/** The way from an international frame at an epoch to a national one, or back. */
export interface RealisationChain {
  readonly realisation: Realisation;
  /** From the international frame to the national one. */
  readonly links: readonly ChainLink[];
  /** `inverse`: the systems asked for are the other way about. */
  readonly direction: ShiftDirection;
  /** One sigma an axis, metres, and what it is made of. `motionM` null: what moves the points states none. */
  readonly sigma: {
    readonly totalM: number;
    readonly operationsM: number;
    readonly motionM: number | null;
    readonly realisationM: number;
  };
  /** Years that the points are moved over. */
  readonly years: number;
}

/** What a chain may be told. */
export interface ChainRequest {
  readonly fromCode: string;
  readonly toCode: string;
  /** Epoch of the coordinates in the international frame, decimal year. */
  readonly epochYear: number;
  /** What moves the points; null: the plate of the table. */
  readonly by: MotionBy | null;
  /** The model of the table's plate; null: `CHAIN_PLATE_MODEL`. */
  readonly plateModel: PlateModelKey | null;
}

/**
 * The two ends of a chain, where one system is of the international frame and the other of a national one that the table
 * knows; null elsewhere.
 */
export function chainEnds(
  fromCode: string,
  toCode: string,
): {
  readonly international: OperationFrame;
  readonly realisation: Realisation;
  readonly direction: ShiftDirection;
} | null {
  for (const [one, other, direction] of [
    [fromCode, toCode, 'forward'],
    [toCode, fromCode, 'inverse'],
  ] as const) {
    const international = operationFrameOf(one);
    const realisation = realisationOf(other);
    if (international?.name.startsWith('ITRF') === true && realisation !== null)
      return { international, realisation, direction };
  }
  return null;
}

/**
 * The chain from an international frame at an epoch to a national one that is frozen at its own, or that a published
 * operation leads to.
 *
 * Given: the two systems, the epoch, and what moves the points. Returned: links and sigma; null where the table does not
 * join the two.
 * Errors: config-missing where neither the table nor the caller says what moves the points; operation-not-named where no
 * published sets join the frames on the way; those of `platePole`.
 *
 * Note: points are moved in the frame that their velocities are given in, and the published set of the national frame is
 * taken at its own epoch. The set taken at the epoch of the coordinates, and the plate's velocity after it, would leave out
 * what the two frames drift against each other: of ITRF91 3 mm a year in Z, 0.1 m since 1994.
 * Reference: EPSG-DB; ITRF-TP; ITRF2020-PMM.
 */
export function realisationChain(request: ChainRequest): Outcome<RealisationChain> | null {
  const ends = chainEnds(request.fromCode, request.toCode);
  if (ends === null) return null;
  const { international, realisation, direction } = ends;
  const { epochYear } = request;
  const links = linksOf(international, realisation, request);
  if (!links.ok) return links;
  const moved = links.value.find((link) => link.kind === 'motion')?.motion ?? null;
  const years = moved === null ? 0 : Math.abs(epochYear - moved.toYear);
  let operationsSquared = 0;
  for (const link of links.value)
    if (link.kind === 'operation') operationsSquared += link.match.operation.accuracyM ** 2;
  const operationsM = Math.sqrt(operationsSquared);
  const motionM = moved === null ? 0 : moved.by.kind === 'plate' ? moved.by.pole.sigmaMPerYear * years : null;
  const realisationM = realisation.sigmaM;
  // A motion that states no sigma adds none, and that is said.
  const totalM = Math.hypot(operationsM, motionM ?? 0, realisationM);
  return success({
    realisation,
    links: links.value,
    direction,
    sigma: { totalM, operationsM, motionM, realisationM },
    years,
  });
}

function linksOf(
  international: OperationFrame,
  realisation: Realisation,
  request: ChainRequest,
): Outcome<readonly ChainLink[]> {
  const { epochYear } = request;
  if (realisation.operation !== null) {
    const last = operationByCode(realisation.operation);
    if (!last.ok) return last;
    const operation = last.value;
    const before = setsBetween(international.name, operation.from.name, epochYear);
    if (!before.ok) return before;
    return success([...before.value, { kind: 'operation', match: { operation, direction: 'forward' }, epochYear }]);
  }
  const by = moverOf(international.name, realisation, request);
  if (!by.ok) return by;
  const movesIn = by.value.kind === 'plate' ? by.value.pole.frame : international.name;
  const toYear = realisation.epochYear ?? epochYear;
  const before = setsBetween(international.name, movesIn, epochYear);
  if (!before.ok) return before;
  const after = setsBetween(movesIn, realisation.itrf, toYear);
  if (!after.ok) return after;
  return success([
    ...before.value,
    { kind: 'motion', motion: { fromYear: epochYear, toYear, by: by.value } },
    ...after.value,
  ]);
}

function moverOf(international: string, realisation: Realisation, { by, plateModel }: ChainRequest): Outcome<MotionBy> {
  if (by?.kind === 'grid' && by.grid.frame !== null && operationFrameOf(by.grid.frame)?.name !== international)
    return failure(
      errorProblem('system-mismatch', {
        message: `the velocities of ${by.grid.name} are given in ${by.grid.frame}, and the chain moves the points in ${international}`,
        received: by.grid.frame,
        hint: 'take the points to the frame of the grid first, and move them there with --epoch-from and --epoch-to',
      }),
    );
  if (by !== null) return success(by);
  if (realisation.plate === null)
    return failure(
      errorProblem('config-missing', {
        message: `${realisation.name} is ${realisation.itrf} at ${yearText(realisation.epochYear)}, and what moved the points since is not named${realisation.note === null ? '' : ` (${realisation.note})`}`,
        expected: 'a plate, a velocity or a velocity grid',
        hint: 'name the plate the points lie on with --plate, or give --velocity VX,VY,VZ of the nearest station, or --velocity-grid',
      }),
    );
  const pole = platePole(realisation.plate, plateModel ?? CHAIN_PLATE_MODEL);
  return pole.ok ? success({ kind: 'plate', pole: pole.value }) : pole;
}

/** Frames that published sets lead from to nearly all others, the newest first. Reference: ITRF-TP. */
const HUBS: readonly string[] = ['ITRF2020', 'ITRF2014'];

/**
 * The published sets between two international frames: the most accurate of those that join the two, else two by way of a
 * frame that both are joined with; none where they are one. Problems: operation-not-named where no sets lead there.
 */
function setsBetween(fromName: string, toName: string, epochYear: number): Outcome<readonly ChainLink[]> {
  if (fromName === toName) return success([]);
  const direct = setBetween(fromName, toName);
  const ways = direct === null ? HUBS.map((hub) => [setBetween(fromName, hub), setBetween(hub, toName)]) : [[direct]];
  for (const way of ways) {
    const matches = way.flatMap((match) => match ?? []);
    if (matches.length === way.length)
      return success(matches.map((match): ChainLink => ({ kind: 'operation', match, epochYear })));
  }
  return failure(
    errorProblem('operation-not-named', {
      message: `no published set leads from ${fromName} to ${toName}`,
      hint: 'name the operation with --operation, or give its parameters with --shift FILE',
    }),
  );
}

function setBetween(fromName: string, toName: string): OperationMatch | null {
  const [from, to] = [operationFrameNamed(fromName)?.geocentric, operationFrameNamed(toName)?.geocentric];
  return from == null || to == null ? null : (findOperations(from, to)[0] ?? null);
}

/** A year as people write an epoch: `1994.0`, `2000.4`. */
export function yearText(year: number | null): string {
  if (year === null) return 'no epoch';
  return Number.isInteger(year) ? `${String(year)}.0` : String(year);
}
