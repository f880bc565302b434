import type { PlanePoint } from './convex-hull.js';

/** Names exchanged must lower the RMS to this part or less, and the next best exchange must leave so many times more. Chosen by us. */
const LOWERED_TO = 1 / 10;
const NEXT_BEST = 5;
/** Smaller misfits are noise, metres. */
const LEAST_RMS_M = 0.1;
/** With more points the search would be long; names are then looked for by hand. */
const MOST_POINTS = 1000;

/** Two points whose names fit the other way round, by their place in the list, and the RMS of the residuals then, metres. */
export interface ExchangedNames {
  readonly first: number;
  readonly second: number;
  readonly rmsM: number;
}

/**
 * Looks for two points whose target places are exchanged: the one exchange that brings the misfit of a similarity down by orders.
 *
 * Given: three places or more in both systems; the scale, or null where it is free. Returned: the exchange; null where none stands
 * out, or the places fit as they are. Method: about both means, with S = Σ|x|², T = Σ|X|² and a, b the two sums of products, the
 * squares left by the best similarity are T − (a² + b²)/S (scale free) or T + μ²S − 2μ√(a² + b²); an exchange changes a and b
 * alone, so that each of the n(n − 1)/2 costs a few sums.
 */
export function exchangedNames(points: readonly { readonly source: PlanePoint; readonly target: PlanePoint }[], fixedScale: number | null): ExchangedNames | null {
  const n = points.length;
  if (n < 3 || n > MOST_POINTS) return null;
  const source = centred(points.map((point) => point.source));
  const target = centred(points.map((point) => point.target));
  let [a, b, squares, targetSquares] = [0, 0, 0, 0];
  for (let i = 0; i < n; i += 1) {
    const [s, t] = [source[i] as PlanePoint, target[i] as PlanePoint];
    a += s.eastM * t.eastM + s.northM * t.northM;
    b += s.eastM * t.northM - s.northM * t.eastM;
    squares += s.eastM ** 2 + s.northM ** 2;
    targetSquares += t.eastM ** 2 + t.northM ** 2;
  }
  const rms = (p: number, q: number): number => {
    const left = fixedScale === null ? targetSquares - (p * p + q * q) / squares : targetSquares + fixedScale ** 2 * squares - 2 * fixedScale * Math.hypot(p, q);
    return Math.sqrt(Math.max(0, left) / n);
  };
  const now = rms(a, b);
  if (!(now > LEAST_RMS_M)) return null;
  let best: ExchangedNames = { first: -1, second: -1, rmsM: Infinity };
  let next = Infinity;
  for (let i = 0; i < n; i += 1) {
    for (let j = i + 1; j < n; j += 1) {
      const [s, u, t, v] = [source[i] as PlanePoint, source[j] as PlanePoint, target[i] as PlanePoint, target[j] as PlanePoint];
      const [x, y, east, north] = [s.eastM - u.eastM, s.northM - u.northM, v.eastM - t.eastM, v.northM - t.northM];
      const rmsM = rms(a + x * east + y * north, b + x * north - y * east);
      if (rmsM < best.rmsM) {
        next = best.rmsM;
        best = { first: i, second: j, rmsM };
      } else next = Math.min(next, rmsM);
    }
  }
  return best.rmsM <= now * LOWERED_TO && next >= NEXT_BEST * best.rmsM ? best : null;
}

function centred(places: readonly PlanePoint[]): readonly PlanePoint[] {
  const origin = places[0] as PlanePoint;
  const eastM = places.reduce((sum, place) => sum + (place.eastM - origin.eastM), 0) / places.length;
  const northM = places.reduce((sum, place) => sum + (place.northM - origin.northM), 0) / places.length;
  return places.map((place) => ({ eastM: place.eastM - origin.eastM - eastM, northM: place.northM - origin.northM - northM }));
}
