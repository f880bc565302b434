import { gaussRadiusM } from '../../../../core/ellipsoid/radii.js';
import { combinedFactor, elevationFactor } from '../../../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../../../core/grid/factors/grid-factors.js';
import { gridProblem } from '../../../../core/grid/systems/grid-problem.js';
import { groundSpreadProblem } from '../../../../core/grid/factors/ground-factor-spread.js';
import { createGroundScale } from '../../../../core/grid/factors/ground-scale.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { createGroundSpread } from '../../../../tasks/reduce/ground-spread.js';
import type { GroundSpread } from '../../../../tasks/reduce/ground-spread.js';
import type { PlaneStep } from '../../../../tasks/transform/transform-setup.js';
import { numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { parsePlaceAndHeight } from '../../../inputs/parse-place.js';
import type { LoadedSide } from './transform-side.js';

/** The ground scale of a job: at which end it acts, and what is known of its fitness at the end of the run. */
export interface GroundStep {
  readonly step: PlaneStep;
  /** `in`: the file holds ground coordinates and --inverse takes them to the grid. */
  readonly end: 'in' | 'out';
  readonly combinedFactor: number;
  readonly spread: GroundSpread;
  readonly said: string;
  /** After the last point: what to say, and the refusal if there is one. */
  readonly verdict: () => { readonly lines: readonly string[]; readonly problem: Problem | null };
}

/**
 * The ground scale of --ground-at; null where it is not given.
 * Problems: usage-conflict, usage-invalid; system-mismatch where that end is no conformal projection; those of the place.
 */
export function groundStep(
  invocation: Invocation,
  from: LoadedSide,
  to: LoadedSide,
  inverse: boolean,
): Outcome<GroundStep | null> {
  const text = textOption(invocation, 'groundAt');
  const toleranceM = numberOption(invocation, 'groundTolerance');
  if (text === null) {
    if (toleranceM === null) return success(null);
    return failure(
      errorProblem('usage-conflict', {
        message: '--ground-tolerance needs --ground-at',
        hint: 'give the place the ground scale holds at: --ground-at LAT,LON,H',
      }),
    );
  }
  if (toleranceM !== null && !(toleranceM > 0)) {
    return failure(
      errorProblem('usage-invalid', {
        message: `--ground-tolerance ${String(toleranceM)} is not above 0 metres`,
        received: String(toleranceM),
      }),
    );
  }
  const side = inverse ? from : to;
  const { grid } = side;
  if (grid?.projection.conformal !== true) return failure(notConformal(side));
  const place = parsePlaceAndHeight(text, '--ground-at');
  if (!place.ok) return place;
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = place.value;
  const held = emptyGridPairAndFactors();
  const status = grid.forwardWithFactors(latitudeDeg, longitudeDeg, held);
  if (status !== 'ok') return failure(gridProblem(status, { latitudeDeg, longitudeDeg }, grid));
  const factor = combinedFactor(
    held.pointScaleFactor ?? 1,
    elevationFactor(gaussRadiusM(grid.base.ellipsoid, latitudeDeg), ellipsoidalHeightM),
  );
  const scale = createGroundScale(held.first, held.second, factor);
  if (!scale.ok) return scale;
  const spread = createGroundSpread(grid, factor, ellipsoidalHeightM);
  const columns = [`ground_${grid.axes[0].columnName}`, `ground_${grid.axes[1].columnName}`] as const;
  return success({
    step: { columns, transformation: scale.value },
    end: inverse ? 'in' : 'out',
    combinedFactor: factor,
    spread,
    said: saidOf(grid, held.first, held.second, factor, inverse),
    verdict: () => verdictOf(spread, toleranceM),
  });
}

function notConformal({ grid, label }: LoadedSide): Problem {
  return errorProblem('system-mismatch', {
    message:
      grid === null
        ? `ground coordinates are scaled from a grid, and ${label} is no projected system`
        : `the scale of ${label} differs with direction, so no single factor leads to the ground`,
    received: label,
    hint: 'name a conformal projected system, such as a transverse Mercator zone',
  });
}

function saidOf(grid: GridSystem, first: number, second: number, factor: number, inverse: boolean): string {
  const [a, b] = grid.axes;
  const about = `${a.name} ${formatFixed(first, 4)}, ${b.name} ${formatFixed(second, 4)} (${a.unitName})`;
  return `${inverse ? 'ground to grid' : 'grid to ground'} about ${about}: combined factor ${formatFixed(factor, 9)}`;
}

function verdictOf(
  spread: GroundSpread,
  toleranceM: number | null,
): { readonly lines: readonly string[]; readonly problem: Problem | null } {
  const result = spread.result();
  if (result === null) return { lines: [], problem: null };
  const without = spread.withoutHeight();
  const lines = [
    `combined factor over the job: ${formatFixed(result.minimum, 9)} to ${formatFixed(result.maximum, 9)}, a spread of ${formatFixed(result.spreadPpm, 2)} ppm; over its extent of ${formatFixed(result.extentM / 1000, 3)} km that is ${formatFixed(result.spreadMm, 1)} mm`,
    `worst point against the scale: ${formatFixed(result.worstPpm, 2)} ppm, ${formatFixed(result.worstMm, 1)} mm over the extent`,
    ...(without === 0
      ? []
      : [
          `${String(without)} ${without === 1 ? 'point has' : 'points have'} no ellipsoidal height: that of --ground-at stood in, so the spread may be larger; --from-height orthometric --to-height ellipsoidal with --geoid would supply it`,
        ]),
  ];
  return { lines, problem: toleranceM === null ? null : groundSpreadProblem(result, toleranceM) };
}
