import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import { distanceM } from '../../../core/heights/height-surface.js';
import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { trendRow } from '../../../core/heights/height-trend.js';
import { signalCovarianceM2 } from '../../../core/heights/signal-covariance.js';
import { entryAt } from '../../../records/present.js';
import {
  INPUT,
  LENGTH,
  NUMBER,
  VARIANCE,
  given,
  together,
  withDecimals,
  worked,
} from '../../explain/lines/worked-lines.js';

const COVARIANCE = withDecimals(VARIANCE, 9);
const WEIGHT = withDecimals(NUMBER, 10);

/**
 * What a surface adds to a height, from the numbers of its site file: δ = f·b + c·w. Given: the surface; the names of east and north
 * of the place, which stand above; the place; what was added, metres.
 */
export function surfaceWorking(
  { signal, benchmarks, trend, frame, coefficients, weighted }: HeightSurface,
  [e, n]: readonly string[],
  place: PlanePoint,
  addedM: number,
): readonly string[] {
  const row = trendRow(trend, frame, place);
  const isPlain = signal.kind === 'exponential';
  const at = (letter: string, i: number): string => `${letter}_${String(i + 1)}`;
  return [
    together(given('C_0', signal.sigmaM ** 2, COVARIANCE), given('L', signal.lengthM, INPUT)),
    ...row.map(
      (entry, k) =>
        together(given(at('f', k), entry, NUMBER), given(at('b', k), entryAt(coefficients, k), NUMBER)) +
        (k === 0 ? ` (trend: ${trend}, in metres and km)` : ''),
    ),
    ...benchmarks.map((own, i) => {
      const ratio = `${at('d', i)}/L`;
      const d = distanceM(own.place, place);
      return `${own.pointId}: ${together(
        given(at('x', i), own.place.eastM, INPUT),
        given(at('y', i), own.place.northM, INPUT),
        given(at('w', i), entryAt(weighted, i), WEIGHT),
        worked(
          at('d', i),
          `√((${String(e)} − ${at('x', i)})² + (${String(n)} − ${at('y', i)})²)`,
          d,
          withDecimals(LENGTH, 4),
        ),
        worked(
          at('c', i),
          `C_0·${isPlain ? '' : `(1 + ${ratio})·`}exp(−${ratio})`,
          signalCovarianceM2(signal, d),
          withDecimals(VARIANCE, 4),
        ),
      )}`;
    }),
    worked(
      'δ',
      [
        ...row.map((_, k) => `${at('b', k)}·${at('f', k)}`),
        ...benchmarks.map((_, i) => `${at('c', i)}·${at('w', i)}`),
      ].join(' + '),
      addedM,
      withDecimals(LENGTH, 5),
    ),
  ];
}
