import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { CombinedOccupations } from '../../core/observation/repeats/combine-occupations.js';
import { jointCovariance } from '../../core/observation/repeats/joint-covariance.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import { REPEATS_RUN_LEVEL } from '../../core/quality/decision-levels.js';
import { repeatLevel } from '../../core/quality/joint-test.js';
import { entryAt } from '../../records/present.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { WorkingStep } from '../../records/working-step.js';
import { compareStands } from '../repeats/compare-stands.js';
import type { ComparedStands } from '../repeats/compare-stands.js';
import { standOf } from '../repeats/combine-points.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { ellipseLines } from './position/explain-ellipse.js';
import {
  METRES,
  MILLIMETRES,
  NUMBER,
  VARIANCE,
  given,
  inForm,
  inOne,
  lowered,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';
import type { NumberForm } from './lines/worked-lines.js';

/** The covariance of more occupations is not printed: it would fill pages. */
const MOST_PRINTED = 4;
const AXES = ['E', 'N', 'U'] as const;
const PLACE: NumberForm = { unit: ' m', perOne: 1, decimals: 7 };
const WEIGHT: NumberForm = withDecimals(NUMBER, 6);
const ENTRY: NumberForm = VARIANCE;

/**
 * The test and the join of the occupations of one point, with the weights of each; nothing where fewer than two have a position.
 *
 * Given: the occupations; the setup of the run; how many points of it were occupied more than once, which share the level.
 */
export function explainRepeats(
  points: readonly ReducedPoint[],
  setup: ReductionSetup,
  repeated: number,
): readonly WorkingStep[] {
  const usable = points.filter(({ position }) => position !== null);
  if (usable.length < 2) return [];
  const compared = compareStands(usable.map(standOf), setup, repeatLevel(repeated));
  const joined = compared.joined();
  const geoidVarianceM2 = usable[0]?.uncertainty?.geoidVarianceM2 ?? null;
  return [
    joinStep(usable, compared, joined, Math.max(1, repeated)),
    {
      title: 'Figures at 95 % of the join',
      formula: 'as of one occupation, from the covariance of the join',
      substitution: ellipseLines(
        positionalUncertainty(joined.covariance, geoidVarianceM2),
        { total: joined.covariance, geoidVarianceM2 },
        true,
      ),
      result: [],
      source: 'FGDC-NSSDA, appendix 3-A; docs/methods/uncertainty.md',
    },
  ];
}

function joinStep(
  points: readonly ReducedPoint[],
  compared: ComparedStands,
  joined: CombinedOccupations,
  repeated: number,
): WorkingStep {
  const { estimates, times, test, isTooSoon } = compared;
  const { position, covariance, weights } = joined;
  const names = estimates.map((_, index) => lowered(index + 1));
  const covariances = { E: covariance.eeM2, N: covariance.nnM2, U: covariance.uuM2 };
  const ofAll = `1 − ${formatFixed(1 - REPEATS_RUN_LEVEL, 2)}^(1 / ${String(repeated)})`;
  const mean = { E: position.eastM, N: position.northM, U: position.upM };
  return {
    title: `Do the occupations ${points.map(({ occupation }) => occupation).join(' and ')} agree, and what are they together?`,
    formula:
      'x̂ = Σ Wᵢ xᵢ, W = (AᵀC⁻¹A)⁻¹ AᵀC⁻¹, A unit matrices one above the other; C: noise and pole of each alone, the base shared, slow errors shared by exp(−|tᵢ−tⱼ|/τ); χ² = (x − A x̂)ᵀ C⁻¹ (x − A x̂)',
    substitution: [
      `slow errors fade in ${formatFixed(times.correlationHorizontalS, 0)} s in plan and ${formatFixed(times.correlationVerticalS, 0)} s in height`,
      ...covarianceTable(compared, names),
      ...estimates.map(({ position: own }, index) => {
        const name = entryAt(names, index);
        return `occupation ${entryAt(points, index).occupation}: ${together(given(`E${name}`, own.eastM, PLACE), given(`N${name}`, own.northM, PLACE), given(`U${name}`, own.upM, PLACE))}`;
      }),
      ...weights.flatMap((own, index) => weightLines(own, entryAt(names, index))),
      ...AXES.map((axis) =>
        worked(
          `x_${axis}`,
          names.flatMap((name) => AXES.map((of) => `W${name}_${axis}${of}·${of}${name}`)).join(' + '),
          mean[axis],
          METRES,
        ),
      ),
      inOne(
        AXES.map((axis) =>
          worked(`σ_${axis}`, `√(${inForm(covariances[axis], ENTRY)})`, Math.sqrt(covariances[axis]), MILLIMETRES),
        ),
      ),
      `${worked('p', ofAll, repeatLevel(repeated), withDecimals(NUMBER, 8))} (${formatFixed(REPEATS_RUN_LEVEL * 100, 0)} % over the ${repeated === 1 ? 'one point' : `${String(repeated)} points`} occupied more than once)`,
      `limit = chisquare(1 − p, ${String(test.degreesOfFreedom)}) = ${formatFixed(test.limit, 4)} (quantile of χ² with ${String(test.degreesOfFreedom)} degrees of freedom)`,
    ],
    result: [
      `χ² ${formatFixed(test.chiSquare, 2)} with ${String(test.degreesOfFreedom)} degrees of freedom, limit ${formatFixed(test.limit, 2)} (level ${ofAll} = ${formatFixed(repeatLevel(repeated), 5)}): ${test.disagrees ? 'they disagree, and --combine does not join them' : 'they agree; --combine writes the join'}`,
      ...(isTooSoon ? ['they are nearer in time than occupations that count as independent'] : []),
    ],
    source: 'AITKEN-1935; docs/methods/averaging.md',
  };
}

function weightLines(own: CombinedOccupations['weights'][number], name: string): readonly string[] {
  const rows = [
    [own.xx, own.xy, own.xz],
    [own.yx, own.yy, own.yz],
    [own.zx, own.zy, own.zz],
  ] as const;
  return rows.map((row, at) =>
    inOne(row.map((value, of) => given(`W${name}_${entryAt(AXES, at)}${entryAt(AXES, of)}`, value, WEIGHT))),
  );
}

function covarianceTable({ estimates, times }: ComparedStands, names: readonly string[]): readonly string[] {
  if (estimates.length > MOST_PRINTED) return ['their covariance is not printed: there are too many'];
  const width = 14;
  const head = names.flatMap((name) => AXES.map((axis) => `C_${axis}${name} [mm²]`.padStart(width)));
  return [
    head.join(' '),
    ...jointCovariance(estimates, times).map((row) =>
      row.map((value) => formatFixed(value * 1e6, 6).padStart(width)).join(' '),
    ),
  ];
}
