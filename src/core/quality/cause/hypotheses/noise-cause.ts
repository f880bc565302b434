import { chiSquareUpperTail } from '../../../numeric/distributions/chi-square.js';
import { FALSE_CAUSE_LEVEL, LEFT_OVER_LEVEL } from '../../decision-levels.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseFinding } from '../cause-finding.js';
import { CAUSE_COUNT } from '../cause-ids.js';
import { rms, sumOfSquares } from '../form-search.js';
import { createWhitener } from '../whitener.js';
import type { Whitener } from '../whitener.js';

/** How the day's covariance grows with the noise of the measurements, the base and the control left as they are. */
export interface NoiseGrowth {
  readonly covariance: Float64Array;
  /** Part of it in proportion to the variance factor in plan, and in height. */
  readonly plan: Float64Array;
  readonly height: Float64Array;
}

/** Noise larger than stated: its factor, and the day with it. */
export interface FoundNoise {
  readonly finding: CauseFinding;
  readonly whitener: Whitener;
  /** Of the standard deviations. */
  readonly factor: number;
}

/** Largest factor of the standard deviations that is still noise. An assumption. */
const LARGEST_FACTOR = 5;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const STEPS = 11;
const FORMS = ['in plan and height', 'in plan', 'in height'] as const;

/**
 * The cause of noise larger than stated: one factor on the variances of the measurements in plan, in height or in both.
 *
 * With C(s) the covariance at a variance factor s, −2 ln likelihood is ln |C(s)| + rᵀC(s)⁻¹r; s is sought from 1 to 25.
 *
 * Given: residuals in metres, not whitened; the growth of their covariance; columns that were estimated from them.
 * Returned: the best form; null where chance explains it. It explains the residuals where what it leaves agrees with the noise it found: at the largest factor it may not.
 * Reference: docs/methods/likely-cause.md, "Noise larger than stated".
 */
export function noiseCause(residuals: Float64Array, growth: NoiseGrowth, context: CauseContext): FoundNoise | null {
  const n = residuals.length;
  const at = (
    form: (typeof FORMS)[number],
    logFactor: number,
  ): { readonly whitener: Whitener; readonly criterion: number; readonly chiSquare: number } | null => {
    const more = Math.exp(logFactor) - 1;
    const covariance = Float64Array.from(growth.covariance);
    for (const part of [form === 'in height' ? null : growth.plan, form === 'in plan' ? null : growth.height]) {
      for (let i = 0; part !== null && i < covariance.length; i += 1)
        covariance[i] = (covariance[i] as number) + more * (part[i] as number);
    }
    const whitener = createWhitener(covariance, n);
    if (whitener === null) return null;
    const chiSquare = sumOfSquares(whitener.whiten(residuals));
    return { whitener, chiSquare, criterion: whitener.logDeterminant + chiSquare };
  };
  const before = at(FORMS[0], 0);
  if (before === null) return null;
  let best: FoundNoise | null = null;
  for (const form of FORMS) {
    if ((form !== 'in height' && !context.hasHorizontal) || (form !== 'in plan' && !context.hasVertical)) continue;
    const logFactor = leastAt((log) => at(form, log)?.criterion ?? Infinity, 0, 2 * Math.log(LARGEST_FACTOR));
    const there = at(form, logFactor);
    if (there === null) continue;
    const drop = before.criterion - there.criterion;
    const chance = Math.min(1, (chiSquareUpperTail(Math.max(0, drop), 1) / 2) * FORMS.length * CAUSE_COUNT);
    const gain = drop - Math.log(n) - 2 * Math.log(FORMS.length) - 2 * Math.log(CAUSE_COUNT);
    // The first needs any gain.
    if (chance > FALSE_CAUSE_LEVEL || !(gain > 0) || gain <= (best?.finding.gain ?? 0)) continue;
    const count =
      form === 'in plan and height'
        ? n
        : context.list.axisOf.filter((axis) => (axis === 2) === (form === 'in height')).length;
    const factor = Math.exp(logFactor / 2);
    const finding: CauseFinding = {
      cause: 'noise',
      subject: form,
      estimates: [
        { name: 'factor_of_standard_deviations', value: factor, sigma: factor / Math.sqrt(2 * count), unit: 'times' },
      ],
      chiSquareAfter: there.chiSquare,
      rmsAfterM: rms(residuals),
      gain,
      chance,
      isOpen: true,
      explains: chiSquareUpperTail(there.chiSquare, n) >= LEFT_OVER_LEVEL,
      alsoFits: [],
      stand: null,
    };
    best = { finding, whitener: there.whitener, factor };
  }
  return best;
}

/** Where a function of one minimum is least between two places, by golden section. */
function leastAt(of: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [fa, fb] = [of(a), of(b)];
  for (let step = 0; step < STEPS; step += 1) {
    if (fa <= fb) {
      [high, b, fb] = [b, a, fa];
      a = high - GOLDEN * (high - low);
      fa = of(a);
    } else {
      [low, a, fa] = [a, b, fb];
      b = low + GOLDEN * (high - low);
      fb = of(b);
    }
  }
  return (low + high) / 2;
}
