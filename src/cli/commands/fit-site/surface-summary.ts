import { convexHull } from '../../../core/adjustment/convex-hull.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { leaveOneOut } from '../../../core/heights/leave-one-out.js';
import { surfaceVarianceM2 } from '../../../core/heights/surface-at.js';
import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { entryAt } from '../../../records/present.js';
import { placesWithin, surfaceSensitivity } from '../../../tasks/site/surface/surface-sensitivity.js';
import { surfaceParameters } from '../../../tasks/site/surface/surface-parameters.js';
import { LEAST_TO_ESTIMATE } from '../../../tasks/site/surface/surface-settings.js';
import type { SignalOrigin, SurfaceFit } from '../../../tasks/site/surface/surface-fit.js';

/** Benchmarks shown, those that others predict worst first. */
const SHOWN = 12;

const mm = (value: number | null): string => (value === null ? '-' : formatFixed(value * 1000, 1));

/** A surface of heights for people: trend and how it was chosen, signal, what hangs on it, and every benchmark left out. */
export function surfaceLines(surface: HeightSurface, fit: SurfaceFit, factor95: number | null): readonly string[] {
  return [...trendLines(surface, fit, factor95), ...signalLines(surface, fit), ...leftOutLines(surface)];
}

function trendLines(surface: HeightSurface, fit: SurfaceFit, factor95: number | null): readonly string[] {
  const coefficients = surfaceParameters(surface, factor95).slice(0, surface.coefficients.length);
  const tilt = surface.untold === null ? '' : '; a tilt that they do not show is in the sigma all the same';
  return [
    `  trend     ${surface.trend}, ${fit.trendIsStated ? 'as stated' : `chosen by leaving benchmarks out${tilt}`}`,
    ...fit.candidates.map(({ trend, leftOutRmsM, fTest }) => {
      const test =
        fTest === null
          ? ''
          : `, F ${formatFixed(fTest.statistic, 2)} against ${fTest.against} (limit ${formatFixed(fTest.limit, 2)})`;
      return `    ${trend}: left out ${mm(leftOutRmsM)} mm RMS${test}`;
    }),
    ...coefficients.map(
      ({ name, value, halfWidth95, unit, decimals }) =>
        `    ${name.replace('Trend: ', '')} ${formatFixed(value, decimals)}${halfWidth95 === null ? '' : ` ± ${formatFixed(halfWidth95, decimals)}`} ${unit}`,
    ),
  ];
}

const ORIGINS: Readonly<Record<SignalOrigin, string>> = {
  stated: 'as stated',
  estimated: 'by restricted maximum likelihood',
  default: `a default, since fewer than ${String(LEAST_TO_ESTIMATE)} benchmarks tell it`,
};

function signalLines(surface: HeightSurface, { signalOrigin }: SurfaceFit): readonly string[] {
  const { signal, benchmarks } = surface;
  const hull = convexHull(benchmarks.map(({ place }) => place));
  const others =
    surface.likely.length === 0 ? '' : `, over ${String(surface.likely.length)} signals that they leave likely`;
  const sigmas = placesWithin(hull).map((place) => Math.sqrt(surfaceVarianceM2(surface, place)));
  return [
    `  signal    ${signal.kind}, one sigma ${mm(signal.sigmaM)} mm ${ORIGINS[signalOrigin.sigma]}, length ${formatFixed(signal.lengthM / 1000, 2)} km ${ORIGINS[signalOrigin.length]}`,
    `  sigma     ${mm(smallestOf(sigmas, Infinity))} to ${mm(largestOf(sigmas, 0))} mm between the benchmarks${others}; it grows away from them`,
    '  what hangs on the signal: left out RMS, largest change of the correction, largest sigma, mm',
    ...surfaceSensitivity(surface, hull).map(
      ({ what, leftOutRmsM, changeM, mostSigmaM }) =>
        `    ${what.padEnd(10)}${mm(leftOutRmsM).padStart(8)}${mm(changeM).padStart(8)}${mm(mostSigmaM).padStart(8)}`,
    ),
  ];
}

function leftOutLines(surface: HeightSurface): readonly string[] {
  const rows = leaveOneOut(surface).flatMap((one, at) =>
    one === null ? [] : [{ ...one, pointId: entryAt(surface.benchmarks, at).pointId }],
  );
  if (rows.length === 0) return [];
  const sorted = [...rows].sort((a, b) => Math.abs(b.errorM) - Math.abs(a.errorM));
  return [
    '  each benchmark predicted from all others, minus what it is, with one sigma, mm:',
    ...sorted
      .slice(0, SHOWN)
      .map(({ pointId, errorM, sigmaM }) => `    ${pointId.padEnd(12)}${mm(errorM).padStart(8)} ± ${mm(sigmaM)}`),
    ...(sorted.length > SHOWN ? [`    and ${String(sorted.length - SHOWN)} more, all smaller`] : []),
  ];
}
