import {
  collocateHeights,
  dot,
  sharedVarianceM2,
  timesVarianceFactor,
  withUntoldTilt,
} from '../../../core/heights/height-surface.js';
import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { surfaceAtM, surfaceVarianceM2 } from '../../../core/heights/surface-at.js';
import { entryAt } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { LENGTH, NUMBER, given, inForm, together, withDecimals, worked } from '../../explain/lines/worked-lines.js';
import type { ControlPair } from '../control/pair-control.js';
import type { SurfaceFit } from './surface-fit.js';
import {
  COVARIANCE,
  DIFFERENCE,
  SQUARE,
  VALUE,
  WEIGHT,
  covarianceStep,
  name,
  systemAt,
  weightStep,
} from './surface-system.js';
import type { System } from './surface-system.js';

/**
 * The correction at a control point worked through: of a fitted benchmark as all others predict it, of one kept out as all predict it.
 * Given: the fit; what its variances are multiplied by; the control point with its measurement.
 */
export function surfaceSteps(fit: SurfaceFit, varianceFactor: number, pair: ControlPair): readonly WorkingStep[] {
  if (pair.controlHeightM === null || pair.measuredHeightM === null) return [];
  const others = fit.surface.benchmarks.filter(({ pointId }) => pointId !== pair.control.pointId);
  const surface = collocateHeights({ ...fit.surface, benchmarks: others }, varianceFactor);
  if (surface === null) return [{ ...NOT_WITHOUT_IT, substitution: [], result: [] }];
  const isLeftOut = others.length < fit.surface.benchmarks.length;
  // The difference of a fitted benchmark is predicted whole, with the error of its base; the site moves heights without.
  const sharedWith = isLeftOut ? (pair.shared?.id ?? null) : null;
  const plain = predictionSteps(surface, pair, sharedWith, '');
  // The test of a fitted benchmark is that of the trend chosen; the site moves heights with the tilt that may be there.
  const { untold } = isLeftOut ? { untold: null } : withUntoldTiltOf(fit, surface);
  const tilted = untold === null ? null : predictionSteps(untold, pair, sharedWith, 'P');
  const likely = isLeftOut ? null : likelyStep(fit, varianceFactor, pair, plain.valueM);
  return [
    ...plain.steps,
    ...(tilted === null ? [] : tilted.steps),
    ...(likely === null ? [] : [likely.step]),
    judgedStep(surface, pair, { plain, tilted, likelyM2: likely?.varianceM2 ?? null }),
  ];
}

/**
 * What the signals differ by that the benchmarks leave likely: each predicts as the one above does. Null where the signal was not told
 * by the benchmarks. Given: what is added by the signal of the site, metres.
 */
function likelyStep(
  { surface: fitted }: SurfaceFit,
  varianceFactor: number,
  { source, shared }: ControlPair,
  valueM: number,
): { readonly step: WorkingStep; readonly varianceM2: number } | null {
  const { likely } = timesVarianceFactor(fitted, varianceFactor);
  if (likely.length === 0) return null;
  const rows = likely.map(({ weight, surface }) => ({
    weight,
    signal: surface.signal,
    valueM: surfaceAtM(surface, source),
    varianceM2: surfaceVarianceM2(surface, source, shared?.id ?? null),
  }));
  const varianceM2 = rows.reduce((sum, row) => sum + row.weight * (row.varianceM2 + (row.valueM - valueM) ** 2), 0);
  const term = (_: unknown, at: number): string =>
    `${name('p', at)}·(${name('V', at)} + (${name('k', at)} − correction)²)`;
  return {
    varianceM2,
    step: {
      title: 'In height: the sigma over all signals that the benchmarks leave likely',
      formula:
        'Σ p (V + (k − correction)²): weight, variance and correction of each, worked as above with its own C₀ and L',
      substitution: [
        ...rows.map(
          (row, at) =>
            `√C₀ ${inForm(row.signal.sigmaM, VALUE)}, L ${inForm(row.signal.lengthM, LENGTH)}: ${together(
              given(name('p', at), row.weight, WEIGHT),
              given(name('k', at), row.valueM, DIFFERENCE),
              given(name('V', at), row.varianceM2, SQUARE),
            )}`,
        ),
        worked('σ_2L', rows.map(term).join(' + '), varianceM2, SQUARE),
      ],
      result: [],
      source: 'docs/methods/height-surface.md',
    },
  };
}

function withUntoldTiltOf({ surface }: SurfaceFit, other: HeightSurface): HeightSurface {
  return surface.untold === null ? other : withUntoldTilt(other);
}

const NOT_WITHOUT_IT = {
  title: 'In height, by the surface',
  formula: 'the others do not determine the trend without this benchmark: nothing predicts it',
  source: 'docs/methods/height-surface.md',
} as const;

/** A prediction worked through, by one trend; `mark` tells its names from those of another. */
interface Prediction {
  readonly steps: readonly WorkingStep[];
  readonly valueM: number;
  readonly varianceM2: number;
  readonly hasBase: boolean;
}

function predictionSteps(
  surface: HeightSurface,
  pair: ControlPair,
  sharedWith: string | null,
  mark: string,
): Prediction {
  const system = systemAt(surface, pair, sharedWith);
  const { weights, multipliers, c, f } = system;
  const factor = surface.varianceFactor;
  const valueM = dot(
    weights,
    surface.benchmarks.map(({ differenceM }) => differenceM),
  );
  const prior = surface.signal.sigmaM ** 2 + sharedVarianceM2(surface.shared, sharedWith);
  const ofPlace = factor * (prior - dot(weights, c) - dot(multipliers, f));
  const base = baseLines(surface, system, pair, mark);
  const terms = (of: readonly unknown[], term: (at: string) => string): string =>
    of.map((_, at) => term(String(at + 1))).join(' + ');
  const step: WorkingStep = {
    title: `In height: the correction and its sigma${mark === '' ? '' : ', by a plane, whose tilt the benchmarks do not show'}`,
    formula: 'Σ λ e; σ² = s² (C₀ − Σ λ c − Σ μ f), s² the variance factor',
    substitution: [
      worked(
        `correction${mark}`,
        terms(weights, (i) => `λ_${i}·e_${i}`),
        valueM,
        VALUE,
      ),
      together(given('s_2', factor, WEIGHT), given('P_0', prior, COVARIANCE)),
      worked(
        `σ_2${mark}`,
        `s_2·(P_0 − (${terms(weights, (i) => `λ_${i}·c_${i}`)}) − (${terms(multipliers, (k) => `μ_${k}·f_${k}`)}))`,
        ofPlace,
        SQUARE,
      ),
      worked(`σ${mark}`, `√(σ_2${mark})`, Math.sqrt(Math.max(0, ofPlace)), VALUE),
      ...base.lines,
    ],
    result: [`${inForm(surfaceAtM(surface, pair.source), VALUE)} by these benchmarks`],
    source: 'docs/methods/height-surface.md',
  };
  return {
    steps: [covarianceStep(surface, system, pair), weightStep(surface, system), step],
    valueM,
    varianceM2: ofPlace + base.varianceM2,
    hasBase: base.lines.length > 0,
  };
}

function judgedStep(
  { varianceFactor: factor }: HeightSurface,
  pair: ControlPair,
  {
    plain,
    tilted,
    likelyM2,
  }: { readonly plain: Prediction; readonly tilted: Prediction | null; readonly likelyM2: number | null },
): WorkingStep {
  const known = (pair.controlHeightM ?? NaN) - (pair.measuredHeightM ?? NaN);
  const off = tilted === null ? 0 : tilted.valueM - plain.valueM;
  const variance = likelyM2 ?? (tilted ?? plain).varianceM2 + off * off;
  const total = Math.sqrt(variance + factor * pair.heightVarianceM2);
  const mark = tilted === null ? '' : 'P';
  const base = (tilted ?? plain).hasBase ? ` + σ_B${mark}` : '';
  const ofPlace = likelyM2 === null ? `σ_2${mark}${base}${tilted === null ? '' : ' + off·off'}` : 'σ_2L';
  return {
    title: 'In height: what is left',
    formula: 'predicted minus control less measured, over the sigma of both together',
    substitution: [
      ...(tilted === null ? [] : [worked('off', 'correctionP − correction', off, VALUE)]),
      together(given('e', known, DIFFERENCE), given('D', pair.heightVarianceM2, COVARIANCE)) +
        ' (control minus measured)',
      worked('left', 'correction − e', plain.valueM - known, VALUE),
      worked('σ_left', `√(${ofPlace} + s_2·D)`, total, VALUE),
      worked('w', 'left / σ_left', (plain.valueM - known) / total, withDecimals(NUMBER, 3)),
    ],
    result: [],
    source: 'docs/methods/height-surface.md',
  };
}

/** Of a point kept out: what the error of the base that it shares adds, less what cancels. */
function baseLines(
  { shared, benchmarks, varianceFactor: factor }: HeightSurface,
  { sharedWith, weights }: System,
  pair: ControlPair,
  mark: string,
): { readonly lines: readonly string[]; readonly varianceM2: number } {
  const id = pair.shared?.id ?? null;
  const common = sharedVarianceM2(shared, id);
  if (sharedWith !== null || common === 0) return { lines: [], varianceM2: 0 };
  const own = benchmarks.flatMap((benchmark, i) => (benchmark.sharedWith === id ? [i] : []));
  const sum = own.reduce((total, i) => total + entryAt(weights, i), 0);
  const varianceM2 = factor * common * (1 - 2 * sum);
  const formula = own.length === 0 ? 's_2·B' : `s_2·B·(1 − 2·(${own.map((i) => name('λ', i)).join(' + ')}))`;
  return {
    lines: [
      `${given('B', common, COVARIANCE)} (the base it shares with benchmarks)`,
      worked(`σ_B${mark}`, formula, varianceM2, SQUARE),
    ],
    varianceM2,
  };
}
