import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { Network, SharedError, VectorObservation } from '../../../src/core/network/network.js';
import { at, EMPTY } from './vectors-by-hand.js';

/** The bases of the made network, metres. */
export const BASES: readonly (readonly [number, number, number])[] = [
  [0, 0, 0],
  [40000, 5000, 120],
  [15000, 45000, -60],
  [60000, 52000, 340],
];

const DAYS = 5;
const BASE_SIGMA_M = 0.01;
const DAY_SIGMA_M = 0.005;

/** Uniform numbers of a linear congruence; the product passes 2⁵³, so that it is formed in two parts. */
function congruence(seed: number): () => number {
  let state = seed;
  return () => {
    const low = state % 65536;
    const high = (state - low) / 65536;
    // 2³¹ divides 2³² · …, so that of the high part only its own low bits count.
    state = (((high * 1103515245) % 32768) * 65536 + low * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
}

/** A network of points seen from four bases on five days, all numbers from one seed. Base and day errors are shared. */
export function madeNetwork(
  count: number,
  seed: number = 20260304,
): { readonly network: Network; readonly truths: readonly (readonly number[])[] } {
  const u = congruence(seed);
  const g = (): number => {
    let sum = 0;
    for (let k = 0; k < 12; k += 1) sum += u();
    return sum - 6;
  };
  const three = (of: () => number): readonly [number, number, number] => [of(), of(), of()];
  const baseErrors = BASES.map(() => three(() => BASE_SIGMA_M * g()));
  const dayErrors = BASES.map(() => Array.from({ length: DAYS }, () => three(() => DAY_SIGMA_M * g())));
  const truths = Array.from({ length: count }, () => [60000 * u(), 60000 * u(), 400 * u()]);
  const vectors: VectorObservation[] = [];
  truths.forEach((truth, p) => {
    const times = 1 + Math.floor(3 * u());
    for (let k = 0; k < times; k += 1) {
      const b = Math.floor(4 * u());
      const d = Math.floor(5 * u());
      const km = Math.hypot(truth[0]! - BASES[b]![0], truth[1]! - BASES[b]![1]) / 1000;
      const plan = Math.hypot(0.008, 0.0005 * km);
      const sigmas = [plan, plan, Math.hypot(0.015, 0.001 * km)];
      const observed = [0, 1, 2].map((axis) => {
        const whole = truth[axis]! - BASES[b]![axis]! - baseErrors[b]![axis]! - dayErrors[b]![d]![axis]!;
        return whole + sigmas[axis]! * g();
      });
      vectors.push({
        fromId: `B${b + 1}`,
        toId: nameOf(p),
        difference: at(observed[0]!, observed[1]!, observed[2]!),
        covariance: { xx: sigmas[0]! ** 2, xy: 0, xz: 0, yy: sigmas[1]! ** 2, yz: 0, zz: sigmas[2]! ** 2 },
        shared: [{ error: `B${b + 1} day ${d + 1}`, along: 'whole' }],
      });
    }
  });
  const even = (sigma: number): { xx: number; xy: number; xz: number; yy: number; yz: number; zz: number } => ({
    xx: sigma ** 2,
    xy: 0,
    xz: 0,
    yy: sigma ** 2,
    yz: 0,
    zz: sigma ** 2,
  });
  const shared: SharedError[] = BASES.flatMap((_, b) =>
    Array.from({ length: DAYS }, (_unused, d) => ({
      name: `B${b + 1} day ${d + 1}`,
      of: `base B${b + 1}`,
      covariance: even(DAY_SIGMA_M),
    })),
  );
  return {
    truths,
    network: {
      ...EMPTY,
      vectors,
      shared,
      control: BASES.map(([x, y, z], b) => ({
        id: `B${b + 1}`,
        position: at(x, y, z),
        orthometricHeightM: null,
        held: 'weighted' as const,
        covariance: even(BASE_SIGMA_M),
        heightVarianceM2: null,
      })),
    },
  };
}

/** Names whose order is that of the points. */
export function nameOf(point: number): string {
  return `P${String(point + 1).padStart(6, '0')}`;
}

type Three = readonly [number, number, number];

/** East, north and up of the made network where the equator meets the meridian of Greenwich. */
const onEquator = ([east, north, up]: Three): Three => [GRS80.semiMajorAxisM + up, east, north];

/** The outward normal of the ellipsoid, from two places one above the other. */
function normalAt(place: Three): { readonly normal: Three; readonly heightM: number } {
  const foot = geocentricToGeodetic(at(...place), GRS80);
  const above = geodeticToGeocentric({ ...foot, ellipsoidalHeightM: foot.ellipsoidalHeightM + 1000 }, GRS80);
  const normal: Three = [(above.xM - place[0]) / 1000, (above.yM - place[1]) / 1000, (above.zM - place[2]) / 1000];
  return { normal, heightM: foot.ellipsoidalHeightM };
}

/** What is planted, in millionths, by base. */
export const PLANTED: Readonly<Record<string, number>> = { B2: 3, B3: -2, B4: 500 };

/**
 * The made network of 100 points on the ellipsoid with three distortions planted: the vectors of B2 are too long, those of B3
 * turned about its up, those of B4 too high by a share of the height difference. `planted` may say other amounts.
 */
export function distortedNetwork(planted: Readonly<Record<string, number>> = PLANTED): Network {
  const { network, truths } = madeNetwork(100);
  const bases = new Map(BASES.map((place, b) => [`B${b + 1}`, onEquator(place)]));
  const turn = normalAt(bases.get('B3')!).normal;
  const vectors = network.vectors.map((vector): VectorObservation => {
    const { fromId, toId, difference, covariance } = vector;
    const from = bases.get(fromId)!;
    const [east = 0, north = 0, up = 0] = truths[Number(toId.slice(1)) - 1]!;
    const to = onEquator([east, north, up]);
    const [x, y, z] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
    const by = (planted[fromId] ?? 0) * 1e-6;
    const end = normalAt(to);
    const rise = end.heightM - normalAt(from).heightM;
    const bent: Three =
      fromId === 'B2'
        ? [by * x, by * y, by * z]
        : fromId === 'B3'
          ? [by * (turn[1] * z - turn[2] * y), by * (turn[2] * x - turn[0] * z), by * (turn[0] * y - turn[1] * x)]
          : [by * rise * end.normal[0], by * rise * end.normal[1], by * rise * end.normal[2]];
    const { xx, zz } = covariance as Exclude<typeof covariance, { readonly local: unknown }>;
    return {
      ...vector,
      difference: at(difference.zM + bent[0], difference.xM + bent[1], difference.yM + bent[2]),
      covariance: { xx: zz, xy: 0, xz: 0, yy: xx, yz: 0, zz: xx },
    };
  });
  return {
    ...network,
    vectors,
    control: network.control.map((point) => ({ ...point, position: at(...bases.get(point.id)!) })),
  };
}
