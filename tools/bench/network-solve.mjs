// Adjusts the network of `network-numbers.bin` with the program's own library: the free network, the control and the network held
// by it, with all variances and tests. Run in the folder of the file; it needs a built program.
import { readFileSync } from 'node:fs';
import { adjustNetwork } from '../../dist/index.js';
import { BASES, BASE_SIGMA_M, DAY_SIGMA_M, DAYS, EQUATOR_M, pointName, VALUES } from './network-files.mjs';

const file = readFileSync('network-numbers.bin');
const numbers = new Float64Array(file.buffer, file.byteOffset, file.byteLength / 8);
const even = (sigma) => ({ xx: sigma ** 2, xy: 0, xz: 0, yy: sigma ** 2, yz: 0, zz: sigma ** 2 });
const dayName = (b, d) => `B${b + 1} day ${d + 1}`;
const shared = BASES.map((_, b) =>
  Array.from({ length: DAYS }, (_unused, d) => [{ error: dayName(b, d), along: 'whole' }]),
);
const vectors = [];
for (let at = 0; at < numbers.length; at += VALUES) {
  const [b, d, p, xM, yM, zM, xx, yy, zz] = numbers.subarray(at, at + VALUES);
  vectors.push({
    fromId: `B${b + 1}`,
    toId: pointName(p),
    difference: { xM, yM, zM },
    covariance: { xx, xy: 0, xz: 0, yy, yz: 0, zz },
    shared: shared[b][d],
  });
}
const flattening = 1 / 298.257222101;
const outcome = adjustNetwork(
  {
    ellipsoid: {
      name: 'GRS 80',
      semiMajorAxisM: EQUATOR_M,
      inverseFlattening: 1 / flattening,
      flattening,
      eccentricitySquared: flattening * (2 - flattening),
    },
    vectors,
    levelled: [],
    distances: [],
    control: BASES.map(([east, north, up], b) => ({
      id: `B${b + 1}`,
      position: { xM: EQUATOR_M + up, yM: east, zM: north },
      orthometricHeightM: null,
      held: 'weighted',
      covariance: even(BASE_SIGMA_M),
      heightVarianceM2: null,
    })),
    shared: BASES.flatMap((_, b) =>
      Array.from({ length: DAYS }, (_unused, d) => ({
        name: dayName(b, d),
        of: `B${b + 1}`,
        covariance: even(DAY_SIGMA_M),
      })),
    ),
    geoidHeightM: new Map(),
    geoidError: null,
  },
  { datum: 'control', excludesOutliers: false, estimatesVariance: false },
);
if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
console.log(`sum of squares ${outcome.value.finalTest.weightedSquares.toFixed(6)}`);
