import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { fQuantile } from '../../numeric/distributions/f-distribution.js';

/** Measured position of one of the two rover points in one set of one series. */
export interface IsoMeasurement {
  readonly series: number;
  readonly set: number;
  /** 1 or 2. */
  readonly point: 1 | 2;
  readonly xM: number;
  readonly yM: number;
  readonly heightM: number;
}

/** Predetermined standard deviations and the nominal vector between the two points. */
export interface IsoNominal {
  readonly distanceM: number;
  readonly heightDifferenceM: number;
  readonly sigmaXyM: number;
  readonly sigmaHeightM: number;
}

/** Gross-error screen of one set. */
export interface IsoSet {
  readonly series: number;
  readonly set: number;
  readonly distanceM: number;
  readonly heightDifferenceM: number;
  /** Measured minus nominal. */
  readonly distanceErrorM: number;
  readonly heightErrorM: number;
  readonly passes: boolean;
}

export interface IsoScreen {
  /** 2.5·√2·σ: no set may differ from the nominal by more. */
  readonly distanceLimitM: number;
  readonly heightLimitM: number;
  readonly sets: readonly IsoSet[];
  readonly passes: boolean;
}

/** Result of the full procedure. */
export interface IsoPrecision {
  readonly sigmaXM: number;
  readonly sigmaYM: number;
  /** s_ISO of the horizontal position and of the height. */
  readonly sigmaXyM: number;
  readonly sigmaHeightM: number;
  readonly degreesXy: number;
  readonly degreesHeight: number;
}

/** A test of the full procedure: statistic against limits. */
export interface IsoTest {
  readonly what: string;
  readonly value: number;
  readonly low: number | null;
  readonly high: number;
  readonly passes: boolean;
}

/** Series and sets of the full procedure, and sets of the simplified one. */
export const ISO_FULL_SERIES = 3;
export const ISO_SETS = 5;
/** How far apart the two rover points may be, metres; from memory. */
export const ISO_LEAST_DISTANCE_M = 2;
export const ISO_MOST_DISTANCE_M = 20;

/**
 * The screen for gross errors: the vector between the two rover points in each set against its nominal.
 *
 * |D − D*| ≤ 2.5·√2·σ_xy and |Δh − Δh*| ≤ 2.5·√2·σ_h.
 *
 * Given: measurements, both points of every set; nominal. Returned: the sets in order of series and set;
 * a set with one point only is left out (the caller refuses it).
 * Reference: ISO-17123-8 section 6 (the simplified procedure ends here), from memory; example in
 * GOST-17123-8 annex B.
 */
export function isoScreen(measurements: readonly IsoMeasurement[], nominal: IsoNominal): IsoScreen {
  const distanceLimitM = 2.5 * Math.SQRT2 * nominal.sigmaXyM;
  const heightLimitM = 2.5 * Math.SQRT2 * nominal.sigmaHeightM;
  const sets: IsoSet[] = [];
  for (const first of measurements.filter(({ point }) => point === 1)) {
    const second = measurements.find(
      (other) => other.point === 2 && other.series === first.series && other.set === first.set,
    );
    if (second === undefined) continue;
    const distanceM = Math.hypot(second.xM - first.xM, second.yM - first.yM);
    const heightDifferenceM = second.heightM - first.heightM;
    const distanceErrorM = distanceM - nominal.distanceM;
    const heightErrorM = heightDifferenceM - nominal.heightDifferenceM;
    const passes = Math.abs(distanceErrorM) <= distanceLimitM && Math.abs(heightErrorM) <= heightLimitM;
    sets.push({
      series: first.series,
      set: first.set,
      distanceM,
      heightDifferenceM,
      distanceErrorM,
      heightErrorM,
      passes,
    });
  }
  sets.sort((a, b) => a.series - b.series || a.set - b.set);
  return { distanceLimitM, heightLimitM, sets, passes: sets.every((set) => set.passes) };
}

/**
 * Standard deviations of the full procedure: residuals about the mean of each rover point over all sets.
 *
 * s_x = √(Σr_x²/ν), ν = 2(N − 1) for N sets (28 for 3 series of 5); s_xy = √(s_x² + s_y²) with 2ν.
 *
 * Given: measurements of two points in N ≥ 2 sets. Reference: ISO-17123-8 section 7, from memory.
 */
export function isoPrecision(measurements: readonly IsoMeasurement[]): IsoPrecision {
  let x = 0;
  let y = 0;
  let h = 0;
  let degrees = 0;
  for (const point of [1, 2]) {
    const own = measurements.filter((measurement) => measurement.point === point);
    const mean = (value: (m: IsoMeasurement) => number): number => {
      const origin = value(own[0] as IsoMeasurement);
      return origin + own.reduce((sum, m) => sum + (value(m) - origin), 0) / own.length;
    };
    const centre = { x: mean((m) => m.xM), y: mean((m) => m.yM), h: mean((m) => m.heightM) };
    for (const m of own) {
      x += (m.xM - centre.x) ** 2;
      y += (m.yM - centre.y) ** 2;
      h += (m.heightM - centre.h) ** 2;
    }
    degrees += own.length - 1;
  }
  const sigmaXM = Math.sqrt(x / degrees);
  const sigmaYM = Math.sqrt(y / degrees);
  return {
    sigmaXM,
    sigmaYM,
    sigmaXyM: Math.hypot(sigmaXM, sigmaYM),
    sigmaHeightM: Math.sqrt(h / degrees),
    degreesXy: 2 * degrees,
    degreesHeight: degrees,
  };
}

/**
 * Test a: s ≤ σ·√(χ²₀.₉₅,ν/ν), whether the sample agrees with a predetermined σ (one-sided, 95 %).
 * Reference: ISO-17123-8 section 7, from memory; quantiles computed.
 */
export function isoAgainstSigma(what: string, s: number, degreesOfFreedom: number, sigma: number): IsoTest {
  const high = sigma * Math.sqrt(chiSquareQuantile(0.95, degreesOfFreedom) / degreesOfFreedom);
  return { what, value: s, low: null, high, passes: s <= high };
}

/**
 * Test b: 1/F₀.₉₇₅ ≤ s²/s̃² ≤ F₀.₉₇₅, whether two campaigns belong to one population (95 %).
 * Reference: ISO-17123-8 section 7, from memory; quantiles computed.
 */
export function isoAgainstCampaign(
  what: string,
  s: number,
  degrees: number,
  other: number,
  otherDegrees: number,
): IsoTest {
  const value = (s * s) / (other * other);
  const high = fQuantile(0.975, degrees, otherDegrees);
  const low = 1 / fQuantile(0.975, otherDegrees, degrees);
  return { what, value, low, high, passes: value >= low && value <= high };
}
