import { geocentricToLocal, localFrameAt } from '../../core/ellipsoid/local-frame.js';
import { MAD_TO_SIGMA } from '../../core/numeric/median.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { AxisScatter } from '../../core/observation/averaging/expected-scatter.js';
import type { RobustAverage } from '../../core/observation/averaging/robust-average.js';
import { madFactor, screenFactors, screenLimitM } from '../../core/observation/averaging/screen-limit.js';
import { EPOCH_SCREEN_LEVEL, TWO_EPOCHS_LEVEL } from '../../core/quality/decision-levels.js';
import { InternalError } from '../../records/internal-error.js';
import { entryAt, present } from '../../records/present.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReducedEpoch, ReducedOccupation } from '../reduce/reduction-working.js';
import { geocentricText, metres } from './explain-text.js';
import {
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  MILLIMETRES,
  NUMBER,
  SMALL,
  given,
  stated,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';

/** Occupations of up to so many accepted epochs are printed epoch by epoch; `--epochs` writes those of longer ones. */
export const LISTED_EPOCHS = 120;

const AXES = [
  { letter: 'E', scatter: 'horizontal' },
  { letter: 'N', scatter: 'horizontal' },
  { letter: 'U', scatter: 'vertical' },
] as const;
/** A level as the steps print it. */
const percent = (level: number): string => `${formatFixed(level * 100, 1)} %`;
type Letter = (typeof AXES)[number]['letter'];

/** What the robust mean did on one axis. */
interface AxisAverage {
  readonly median: number;
  readonly mad: number;
  readonly mean: number;
  readonly weights: Float64Array;
}

function axisOf(average: RobustAverage, letter: Letter): AxisAverage {
  switch (letter) {
    case 'E':
      return { median: average.medianEastM, mad: average.madEastM, mean: average.eastM, weights: average.weightsEast };
    case 'N':
      return {
        median: average.medianNorthM,
        mad: average.madNorthM,
        mean: average.northM,
        weights: average.weightsNorth,
      };
    case 'U':
      return { median: average.medianUpM, mad: average.madUpM, mean: average.upM, weights: average.weightsUp };
  }
}

/** The accepted epochs, their screen and their robust mean. */
export function averageStep({ point, working }: ReducedOccupation): WorkingStep {
  const { average, expected, mean } = working;
  if (average === null || expected === null || mean === null) throw new InternalError('no average to explain');
  const count = average.outlier.length;
  const listed = count <= LISTED_EPOCHS;
  const line = (name: string, formula: string, value: number, own: typeof LENGTH): string =>
    listed ? worked(name, formula, value, own) : given(name, value, own);
  return {
    title: 'Robust mean of the accepted tips, in metres about the first',
    formula:
      'screen |x − median| > √(1 + π/2n) min(√((z σ)² + (t b MAD)²), z σ_a), MAD = 1.4826 median|x − median|; then Huber mean, c = 1.345',
    substitution: [
      ...(listed
        ? epochTable({ point, working })
        : [`${String(count)} epochs, not listed here (--epochs FILE writes each of them)`]),
      originLine(firstOf({ point, working })),
      `n = ${String(count)}`,
      ...AXES.map(({ letter }) => {
        const { median, mad } = axisOf(average, letter);
        return together(
          line(`m_${letter}`, `median(${letter})`, median, withDecimals(LENGTH, 5)),
          line(
            `MAD_${letter}`,
            `${formatFixed(MAD_TO_SIGMA, 9)}·median(|${letter} − m_${letter}|)`,
            mad,
            withDecimals(SMALL, 2),
          ),
        );
      }),
      ...screenLines(count, average, expected),
      ...AXES.flatMap(({ letter }) => huberLines(average, letter, listed)),
      ...meanLines(mean),
    ],
    result: [
      `${String(average.outlierCount)} screened out, ${String(point.epochsUsed)} kept`,
      `mean east ${metres(average.eastM)}, north ${metres(average.northM)}, up ${metres(average.upM)}`,
      geocentricText(mean),
    ],
    source: 'CROUX-1992; HUBER-1964; docs/methods/averaging.md',
  };
}

function epochTable(reduced: ReducedOccupation): readonly string[] {
  const { epochs, reduced: tips, average, accepted: indices } = reduced.working;
  const used = present(average, 'an average');
  const first = firstOf(reduced);
  const frame = localFrameAt(first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
  // Without times the epochs count as of one instant.
  const startMs = epochs.at(entryAt(indices, 0))?.fix.epochMs ?? 0;
  const cell = (value: number, decimals: number, width: number): string => formatFixed(value, decimals).padStart(width);
  const rows = indices.map((index, at) => {
    const { tip } = present(tips.at(index), 'an epoch');
    const local = geocentricToLocal(frame, {
      xM: tip.xM - first.tip.xM,
      yM: tip.yM - first.tip.yM,
      zM: tip.zM - first.tip.zM,
    });
    // Without times the epochs count as of one instant.
    const timeS = ((epochs.at(index)?.fix.epochMs ?? startMs) - startMs) / 1000;
    return [
      cell(timeS, 3, 9),
      ...[local.eastM, local.northM, local.upM].map((value) => cell(value, 7, 12)),
      ...AXES.map(({ letter }) => cell(entryAt(axisOf(used, letter).weights, at), 4, 7)),
      cell(1 - entryAt(used.outlier, at), 0, 3),
    ].join(' ');
  });
  return ['   t [s]        E [m]        N [m]        U [m]     w_E     w_N     w_U   k', ...rows];
}

function firstOf({ working: { reduced, accepted } }: ReducedOccupation): ReducedEpoch {
  return present(reduced.at(entryAt(accepted, 0)), 'the first accepted epoch');
}

/** The place that the epochs are counted from. */
function originLine({ geodetic, tip }: ReducedEpoch): string {
  return together(
    stated('φ', geodetic.latitudeDeg, INPUT_ANGLE, 9),
    stated('λ', geodetic.longitudeDeg, INPUT_ANGLE, 9),
    given('X₁', tip.xM, INPUT),
    given('Y₁', tip.yM, INPUT),
    given('Z₁', tip.zM, INPUT),
  );
}

function screenLines(
  count: number,
  average: RobustAverage,
  expected: { readonly horizontal: AxisScatter; readonly vertical: AxisScatter },
): readonly string[] {
  const { z, t } = screenFactors(count);
  const most = together(given('σ_ah', expected.horizontal.mostM, SMALL), given('σ_av', expected.vertical.mostM, SMALL));
  const limit = (letter: Letter, scatter: 'horizontal' | 'vertical', formula: string): string =>
    worked(
      `limit_${letter}`,
      formula,
      screenLimitM(count, axisOf(average, letter).mad, expected[scatter]),
      MILLIMETRES,
    );
  if (count === 2) {
    return [
      most,
      `z = normal(1 − ${percent(TWO_EPOCHS_LEVEL)} / (2·3)) / √2 = ${formatFixed(z, 6)} (two-sided, the level shared over 3 axes, of half the difference of two epochs, which cannot say which of them is wrong)`,
      ...AXES.map(({ letter, scatter }) => limit(letter, scatter, `z·σ_a${scatter === 'vertical' ? 'v' : 'h'}`)),
    ];
  }
  return [
    together(given('σ_h', expected.horizontal.withinM, SMALL), given('σ_v', expected.vertical.withinM, SMALL)),
    most,
    `${worked('p', `${percent(EPOCH_SCREEN_LEVEL)} / (3·n)`, EPOCH_SCREEN_LEVEL / (3 * count), withDecimals(NUMBER, 10))} (${percent(EPOCH_SCREEN_LEVEL)} shared over ${String(3 * count)} values)`,
    `z = normal(1 − p / 2) = ${formatFixed(z, 6)} (quantile of the normal distribution, two-sided)`,
    `T = student(1 − p / 2, (n − 1) / 2) = ${formatFixed(t, 6)} (quantile of Student's at the same level, (n − 1)/2 degrees of freedom)`,
    count <= 10
      ? `b = ${formatFixed(madFactor(count), 4)} (small-sample factor of the MAD of n values)`
      : worked('b', 'n / (n − 0.8)', madFactor(count), withDecimals(NUMBER, 6)),
    ...AXES.map(({ letter, scatter }) => {
      const axis = scatter === 'vertical' ? 'v' : 'h';
      return limit(letter, scatter, `√(1 + π / (2·n))·min(√((z·σ_${axis})² + (T·b·MAD_${letter})²), z·σ_a${axis})`);
    }),
  ];
}

function huberLines(average: RobustAverage, letter: Letter, listed: boolean): readonly string[] {
  const { weights, mean, mad } = axisOf(average, letter);
  if (listed) {
    return [
      worked(`mean_${letter}`, `sum(w_${letter}·${letter}) / sum(w_${letter})`, mean, METRES),
      `w_${letter} = 1.345·max(MAD_${letter}, 1 mm) / max(|${letter} − mean_${letter}|, 1.345·max(MAD_${letter}, 1 mm)) = w_${letter} of the table (0: screened out)`,
    ];
  }
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return [
    together(
      stated(`W_${letter}`, sum, withDecimals(NUMBER, 6)),
      given(`M_${letter}`, mean * sum, withDecimals(LENGTH, 6)),
      worked(`mean_${letter}`, `M_${letter} / W_${letter}`, mean, METRES),
      given(`scale_${letter}`, mad, SMALL),
    ),
  ];
}

/** The mean in geocentric axes. */
function meanLines(mean: GeocentricPoint): readonly string[] {
  return [
    worked('X', 'X₁ − sin λ·mean_E − sin φ·cos λ·mean_N + cos φ·cos λ·mean_U', mean.xM, METRES),
    worked('Y', 'Y₁ + cos λ·mean_E − sin φ·sin λ·mean_N + cos φ·sin λ·mean_U', mean.yM, METRES),
    worked('Z', 'Z₁ + cos φ·mean_N + sin φ·mean_U', mean.zM, METRES),
  ];
}
