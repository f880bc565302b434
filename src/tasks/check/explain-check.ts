import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { LimitVerdict } from '../../core/quality/standards/limit-verdict.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { CheckAxes, CheckKind, CheckRow } from './judge/check-tolerances-setup.js';
import type { NoiseLimits } from './judge/check-tolerances-judge.js';
import {
  INPUT,
  METRES,
  NUMBER,
  SMALL,
  VARIANCE,
  given,
  inForm,
  together,
  withDecimals,
  worked,
} from '../explain/worked-lines.js';

const KIND_WORDS: Readonly<Record<CheckKind, string>> = {
  control: 'with control',
  repeat: 'with its other occupation',
  'base-pair': 'with its occupation from another base',
  design: 'with the design',
  line: 'with the line of the design',
};

/** The check of one difference worked through: difference, uncertainty, statistic, limits, verdict. */
export function explainCheck(row: CheckRow, axes: CheckAxes, noise: NoiseLimits | null): readonly WorkingStep[] {
  return [
    differenceStep(row, axes),
    ...(row.covariance === null ? [untestedStep()] : [uncertaintyStep(row)]),
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
    from === null || from.firstM === null || from.secondM === null
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

function uncertaintyStep({ covariance, check, measured, known }: CheckRow): WorkingStep {
  const c = covariance ?? { eeM2: 0, enM2: 0, nnM2: 0, uuM2: 0 };
  const stated = [
    ...(measured?.row.sigmaUpM == null
      ? ['the measured point states no sigma: the planning model stands in for it']
      : [
          `measured: ${together(
            ...(measured.row.sigmaEastM === null ? [] : [given('σ_e', measured.row.sigmaEastM, SMALL)]),
            ...(measured.row.sigmaNorthM === null ? [] : [given('σ_n', measured.row.sigmaNorthM, SMALL)]),
            given('σ_u', measured.row.sigmaUpM, SMALL),
          )}`,
        ]),
    ...(check === 'control' && known !== null
      ? [
          known.row.sigmaHorizontalM === null
            ? 'the control states no sigma in plan: none is added'
            : `control: ${given('σ_plan', known.row.sigmaHorizontalM, SMALL)}`,
          known.row.sigmaVerticalM === null
            ? 'the control states no sigma in height: none is added'
            : `control: ${given('σ_height', known.row.sigmaVerticalM, SMALL)}`,
        ]
      : []),
  ];
  return {
    title: 'Its uncertainty',
    formula:
      'the covariances of both sides added, along the axes of the grid, and that of the geoid where heights need it',
    substitution: [
      ...stated,
      together(
        given('C_EE', c.eeM2, VARIANCE),
        given('C_EN', c.enM2, VARIANCE),
        given('C_NN', c.nnM2, VARIANCE),
        given('C_UU', c.uuM2, VARIANCE),
      ),
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
  const formula = '(C_NN·ΔA² − 2·C_EN·ΔA·ΔB + C_EE·ΔB²) / (C_EE·C_NN − C_EN²)';
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
