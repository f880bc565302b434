import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { LimitVerdict } from '../../core/quality/standards/limit-verdict.js';
import { present } from '../../records/present.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { CheckAxes, CheckKind, CheckRow } from './judge/check-tolerances-setup.js';
import type { NoiseLimits } from './judge/check-tolerances-judge.js';
import {
  INPUT,
  INPUT_ANGLE,
  METRES,
  NUMBER,
  SMALL,
  VARIANCE,
  given,
  inForm,
  together,
  withDecimals,
  worked,
} from '../explain/lines/worked-lines.js';

const KIND_WORDS: Readonly<Record<CheckKind, string>> = {
  control: 'with control',
  repeat: 'with its other occupation',
  'base-pair': 'with its occupation from another base',
  design: 'with the design',
  line: 'with the line of the design',
};

/** What the setup adds to the uncertainty of a comparison. */
export interface AddedToCheck {
  readonly geoidSigmaM: number | null;
  /** The day showed more noise than the model, and uncertainties hold it. */
  readonly isOfDay: boolean;
}

const RATIO = withDecimals(NUMBER, 6);

/** The check of one difference worked through: difference, uncertainty, statistic, limits, verdict. */
export function explainCheck(
  row: CheckRow,
  axes: CheckAxes,
  noise: NoiseLimits | null,
  added: AddedToCheck,
): readonly WorkingStep[] {
  return [
    differenceStep(row, axes),
    ...(row.covariance === null ? [untestedStep()] : [uncertaintyStep(row, added)]),
    ...(row.horizontalStatistic === null && row.verticalStatistic === null ? [] : [statisticStep(row, noise)]),
    ...(row.limits.length === 0 ? [] : [limitStep(row)]),
    {
      title: 'Verdict',
      formula:
        'a limit decides where there is one; without a limit the uncertainty does; without both nothing is judged',
      substitution: [`reasons: ${row.reasons.length === 0 ? 'none' : row.reasons.join(', ')}`],
      result: [row.verdict],
      source: 'docs/methods/limits.md',
    },
  ];
}

/** Title of the steps of one row. */
export const checkTitle = ({ pointId, occupation, check, against }: CheckRow): string =>
  `Check of ${pointId}${occupation === '' ? '' : `, occupation ${occupation}`}, ${KIND_WORDS[check]} (${against})`;

function differenceStep({ measured, known, firstM, secondM, upM, heightKind }: CheckRow, axes: CheckAxes): WorkingStep {
  const pair = (
    name: string,
    from: { readonly firstM: number | null; readonly secondM: number | null } | null,
  ): readonly string[] =>
    from?.firstM == null || from.secondM === null
      ? []
      : [`${name}: ${together(given(`A_${name}`, from.firstM, INPUT), given(`B_${name}`, from.secondM, INPUT))}`];
  const hasPairs = measured?.firstM != null && known?.firstM != null;
  const height = heightKind === 'orthometric' ? 'orthometricHeightM' : 'ellipsoidalHeightM';
  const [up, ground] = [measured?.[height] ?? null, known?.[height] ?? null];
  return {
    title: 'The difference',
    formula: `measured minus known: A is ${axes.first}, B ${axes.second}, H the ${heightKind ?? 'height'}${heightKind === null ? '' : ' height'}`,
    substitution: [
      ...pair('measured', measured),
      ...pair('known', known),
      ...(firstM === null || secondM === null
        ? ['plan is not compared']
        : [
            together(
              hasPairs ? worked('ΔA', 'A_measured − A_known', firstM, METRES) : given('ΔA', firstM, INPUT),
              hasPairs ? worked('ΔB', 'B_measured − B_known', secondM, METRES) : given('ΔB', secondM, INPUT),
            ),
            worked('plan', '√(ΔA² + ΔB²)', Math.hypot(firstM, secondM), METRES),
          ]),
      ...(upM === null || up === null || ground === null
        ? ['height is not compared']
        : [
            together(given('H_measured', up, INPUT), given('H_known', ground, INPUT)),
            worked('ΔH', 'H_measured − H_known', upM, METRES),
          ]),
    ],
    result: [],
    source: 'docs/methods/limits.md',
  };
}

function untestedStep(): WorkingStep {
  return {
    title: 'Its uncertainty',
    formula: 'the covariance of both sides added',
    substitution: ['neither side states an uncertainty, and no baseline is known: nothing is tested against it'],
    result: [],
    source: 'docs/methods/uncertainty.md',
  };
}

function uncertaintyStep(
  { covariance, check, measured, known, heightKind }: CheckRow,
  added: AddedToCheck,
): WorkingStep {
  const c = present(covariance, 'the covariance of a comparison that is tested');
  const [own, other] = [measured?.row ?? null, known?.row ?? null];
  const isStated = own?.sigmaEastM != null && own.sigmaNorthM !== null && own.sigmaUpM !== null;
  // Of control: the other kinds share errors between both sides, and the sum of the parts is not the whole.
  const isSummed = isStated && check === 'control' && !added.isOfDay;
  const unstated = (what: string, sigmaM: number | null): string =>
    sigmaM === null ? ` (the control states no sigma in ${what}: none is added)` : '';
  const budget =
    !isSummed || own === null || measured === null
      ? [
          isStated
            ? 'what the two sides share counts once, and what the day adds is in it'
            : 'the measured point states no sigma: the planning model stands in for it',
        ]
      : [
          `measured: ${together(
            given('σ_e', present(own.sigmaEastM, 'the sigma in east'), SMALL),
            given('σ_n', present(own.sigmaNorthM, 'the sigma in north'), SMALL),
            given('σ_u', present(own.sigmaUpM, 'the sigma in height'), SMALL),
            // Not stated: taken as none.
            given('ρ', own.correlationEn ?? 0, RATIO),
            given('γ', measured.convergenceDeg, INPUT_ANGLE),
          )}`,
          // Not stated: nothing is added, and the line says so.
          `${given('σ_plan', other?.sigmaHorizontalM ?? 0, SMALL)}${unstated('plan', other?.sigmaHorizontalM ?? null)}`,
          // Not stated: nothing is added, and the line says so.
          `${given('σ_height', other?.sigmaVerticalM ?? 0, SMALL)}${unstated('height', other?.sigmaVerticalM ?? null)}`,
          // Without a sigma of the geoid, or with ellipsoidal heights, none is added.
          `${given('σ_N', heightKind === 'orthometric' ? (added.geoidSigmaM ?? 0) : 0, SMALL)} (geoid)`,
        ];
  const line = (name: string, formula: string, value: number): string =>
    isSummed ? worked(name, formula, value, withDecimals(VARIANCE, 2)) : given(name, value, VARIANCE);
  return {
    title: 'Its uncertainty',
    formula:
      'the covariances of both sides added, along the axes of the grid, and that of the geoid where heights need it',
    substitution: [
      ...budget,
      line('C_EE', 'cos²γ·σ_e² − 2·sin γ·cos γ·ρ·σ_e·σ_n + sin²γ·σ_n² + σ_plan²', c.eeM2),
      line('C_EN', 'sin γ·cos γ·(σ_e² − σ_n²) + (cos²γ − sin²γ)·ρ·σ_e·σ_n', c.enM2),
      line('C_NN', 'sin²γ·σ_e² + 2·sin γ·cos γ·ρ·σ_e·σ_n + cos²γ·σ_n² + σ_plan²', c.nnM2),
      line('C_UU', 'σ_u² + σ_height² + σ_N²', c.uuM2),
      together(
        worked('s_E', '√(C_EE)', Math.sqrt(c.eeM2), withDecimals(SMALL, 2)),
        worked('s_N', '√(C_NN)', Math.sqrt(c.nnM2), withDecimals(SMALL, 2)),
        worked('s_U', '√(C_UU)', Math.sqrt(c.uuM2), withDecimals(SMALL, 2)),
      ),
    ],
    result: [],
    source: 'docs/methods/uncertainty.md',
  };
}

function statisticStep(row: CheckRow, noise: NoiseLimits | null): WorkingStep {
  const { horizontalStatistic, verticalStatistic, covariance } = row;
  const joint = row.check === 'repeat' || row.check === 'base-pair';
  // One axis that counts west or south, the other not: the product of the two differences changes its sign.
  const isMirrored = noise !== null && noise.signs[0] !== noise.signs[1];
  const formula = `(C_NN·ΔA² ${isMirrored ? '+' : '−'} 2·C_EN·ΔA·ΔB + C_EE·ΔB²) / (C_EE·C_NN − C_EN²)`;
  return {
    title: 'Held against its uncertainty',
    formula: 'Q = Δᵀ C⁻¹ Δ in plan, chi-square of 2 degrees of freedom; z = |ΔH| / s_U in height, normal',
    substitution: [
      ...(horizontalStatistic === null
        ? ['plan is not tested']
        : [
            joint || covariance === null
              ? given('Q', horizontalStatistic, withDecimals(NUMBER, 2))
              : worked('Q', formula, horizontalStatistic, withDecimals(NUMBER, 2)),
          ]),
      ...(verticalStatistic === null
        ? ['height is not tested']
        : [
            joint
              ? given('z', verticalStatistic, withDecimals(NUMBER, 2))
              : worked('z', '|ΔH| / s_U', verticalStatistic, withDecimals(NUMBER, 2)),
          ]),
    ],
    result: [
      noise === null
        ? 'the occupations of the point are judged by one test of all of them: see the summary'
        : `limits Q ≤ ${formatFixed(noise.chiSquare, 2)} and z ≤ ${formatFixed(noise.z, 2)}, which all comparisons share`,
    ],
    source: 'docs/methods/limits.md',
  };
}

const AXIS_VALUES: Readonly<Record<LimitVerdict['axis'], string>> = {
  '2d': '√(ΔA² + ΔB²)',
  '1d': 'max(|ΔA|, |ΔB|)',
  up: '|ΔH|',
};

function limitStep({ limits, distanceM }: CheckRow): WorkingStep {
  return {
    title: 'Held against its limits',
    formula: 'margin = limit − value; what is equal to its limit is within',
    substitution: [
      ...(distanceM === null ? [] : [`distance that limits grow with: ${inForm(distanceM, METRES)}`]),
      ...limits.flatMap(({ limitName, axis, valueM, limitM, marginM, governedBy, verdict }) => [
        `${limitName}: ${
          limitM === null || marginM === null
            ? 'the limit needs a distance that is not known'
            : together(
                worked('value', AXIS_VALUES[axis], valueM, METRES),
                given('limit', limitM, INPUT),
                worked('margin', 'limit − value', marginM, METRES),
              )
        } (${verdict}${governedBy === null || governedBy === 'constant' ? '' : `, governed by ${governedBy}`})`,
      ]),
    ],
    result: [],
    source: 'docs/methods/limits.md',
  };
}
