import type { PlanePoint } from '../convex-hull.js';

/** Names put right must lower the RMS to this part or less, and another last exchange must leave so many times more. Chosen by us. */
const LOWERED_TO = 1 / 10;
const NEXT_BEST = 5;
/** Smaller misfits are noise, metres. */
const LEAST_RMS_M = 0.1;
/** More exchanges in one file are no slip of a pencil: names are then looked for by hand. */
const MOST_EXCHANGES = 6;
/** So many of the best first exchanges are followed. */
const MOST_STARTS = 8;
/** With more points the search would be long; names are then looked for by hand. */
const MOST_POINTS = 1000;

/** Points whose names fit another way, by their places in the list, and the RMS of the residuals then, metres. */
export interface ExchangedNames {
  /** Of two, each belongs to the other's place; of more, each to the place of the next and the last to that of the first. */
  readonly cycles: readonly (readonly number[])[];
  readonly rmsM: number;
}

/**
 * Looks for points whose target places are exchanged: two, several twos, or three and more in turn. The exchange that lowers the
 * misfit of a similarity most is made, again and again while one does, and all together must bring it down by orders.
 *
 * Given: three places or more in both systems; the scale, or null where it is free. Returned: the exchanges; null where none stand
 * out, or the places fit as they are. Method: about both means, with S = Σ|x|², T = Σ|X|² and a, b the two sums of products, the
 * squares left by the best similarity are T − (a² + b²)/S (scale free) or T + μ²S − 2μ√(a² + b²); an exchange changes a and b
 * alone, so that each of the n(n − 1)/2 costs a few sums. Names in turn are several exchanges one after the other.
 */
export function exchangedNames(
  points: readonly { readonly source: PlanePoint; readonly target: PlanePoint }[],
  fixedScale: number | null,
): ExchangedNames | null {
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
    const left =
      fixedScale === null
        ? targetSquares - (p * p + q * q) / squares
        : targetSquares + fixedScale ** 2 * squares - 2 * fixedScale * Math.hypot(p, q);
    return Math.sqrt(Math.max(0, left) / n);
  };
  const now = rms(a, b);
  if (!(now > LEAST_RMS_M)) return null;
  const isSettled = ({ rmsM, nextM }: BestExchange): boolean => rmsM <= now * LOWERED_TO && nextM >= NEXT_BEST * rmsM;
  // What lowers the misfit most by itself need not be one of several exchanges: a few beginnings are followed.
  for (const start of bestExchanges(source, target, a, b, rms).slice(0, MOST_STARTS)) {
    /** Whose target each point has after the exchanges. */
    const belongs = Array.from({ length: n }, (_, i) => i);
    let [own, sums, reached] = [start, [a, b] as readonly [number, number], now];
    for (let count = 1; count <= MOST_EXCHANGES && own.rmsM < reached; count += 1) {
      [belongs[own.first], belongs[own.second]] = [belongs[own.second] as number, belongs[own.first] as number];
      if (isSettled(own)) return { cycles: cyclesOf(belongs), rmsM: own.rmsM };
      sums = [sums[0] + own.change[0], sums[1] + own.change[1]];
      reached = own.rmsM;
      own =
        bestExchanges(
          source,
          belongs.map((index) => target[index] as PlanePoint),
          ...sums,
          rms,
        )[0] ?? own;
    }
  }
  return null;
}

interface BestExchange {
  readonly first: number;
  readonly second: number;
  readonly rmsM: number;
  /** What the next best leaves. */
  readonly nextM: number;
  /** What it adds to the two sums of products. */
  readonly change: readonly [number, number];
}

/** The few exchanges that leave least, the best first. */
function bestExchanges(
  source: readonly PlanePoint[],
  target: readonly PlanePoint[],
  a: number,
  b: number,
  rms: (p: number, q: number) => number,
): readonly BestExchange[] {
  const best: BestExchange[] = [];
  for (let i = 0; i < source.length; i += 1) {
    for (let j = i + 1; j < source.length; j += 1) {
      const [s, u, t, v] = [
        source[i] as PlanePoint,
        source[j] as PlanePoint,
        target[i] as PlanePoint,
        target[j] as PlanePoint,
      ];
      const [x, y, east, north] = [s.eastM - u.eastM, s.northM - u.northM, v.eastM - t.eastM, v.northM - t.northM];
      const [da, db] = [x * east + y * north, x * north - y * east];
      const rmsM = rms(a + da, b + db);
      if (best.length > MOST_STARTS && rmsM >= (best[MOST_STARTS]?.rmsM ?? Infinity)) continue;
      const at = best.findIndex((other) => other.rmsM > rmsM);
      best.splice(at < 0 ? best.length : at, 0, { first: i, second: j, rmsM, nextM: Infinity, change: [da, db] });
      best.length = Math.min(best.length, MOST_STARTS + 1);
    }
  }
  // Beside the best the next best counts; beside any other, the best.
  return best.map((own, place) => ({ ...own, nextM: best[place === 0 ? 1 : 0]?.rmsM ?? Infinity }));
}

/** The points that do not have their own, in turn, each cycle from its first on. */
function cyclesOf(belongs: readonly number[]): readonly (readonly number[])[] {
  const seen = new Set<number>();
  return belongs.flatMap((_, start) => {
    const cycle: number[] = [];
    for (let at = start; !seen.has(at); at = belongs[at] as number) {
      seen.add(at);
      cycle.push(at);
    }
    return cycle.length > 1 ? [cycle] : [];
  });
}

function centred(places: readonly PlanePoint[]): readonly PlanePoint[] {
  const origin = places[0] as PlanePoint;
  const eastM = places.reduce((sum, place) => sum + (place.eastM - origin.eastM), 0) / places.length;
  const northM = places.reduce((sum, place) => sum + (place.northM - origin.northM), 0) / places.length;
  return places.map((place) => ({
    eastM: place.eastM - origin.eastM - eastM,
    northM: place.northM - origin.northM - northM,
  }));
}
