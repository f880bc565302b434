// What an adjustment of networks costs and how often it is right: `node tools/network-rates.mjs scale [points]` measures time and
// memory of one large network; `node tools/network-rates.mjs rates [runs]` makes networks with known truth and counts how often
// 95 % figures hold it, clean observations fail, and blunders of the smallest detectable size are found; `unknown-base [runs]` makes
// days whose base stands on an unknown mark, and counts how often its 95 % ellipsoid holds the truth; `distortions [runs]` plants a scale, a turn
// and a zenith delay, and counts how often they are found, and how often one is kept that is not there. A third word says how many
// runs to pass over, so that a long count can be made in pieces. The networks are made
// here, by a generator of its own, and only the public face of the program is used.
import { adjustNetwork, adjustedPosition, networkPoints, networkRelations } from '../dist/index.js';

const GRS80 = { semiMajorAxisM: 6378137, inverseFlattening: 298.257222101 };
const BASES = [
  [0, 0, 0],
  [40000, 5000, 120],
  [15000, 45000, -60],
  [60000, 52000, 340],
];
const BASE_SIGMA_M = 0.01;
const DAY_SIGMA_M = 0.005;

/** Uniform and normal numbers (xorshift and Box and Muller), not those of the tests. */
function randomOf(seed) {
  let state = seed | 0 || 1;
  const uniform = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}

const square = (value) => value * value;
const even = (sigma) => ({ xx: square(sigma), xy: 0, xz: 0, yy: square(sigma), yz: 0, zz: square(sigma) });
const point = ([xM, yM, zM]) => ({ xM, yM, zM });

/** Points seen one to three times from four bases on five days, about a place on the ellipsoid; base and day errors shared. */
function made(count, seed, times = null) {
  const { uniform, normal } = randomOf(seed);
  const origin = [5068000, 1988000, -3314000];
  const three = (sigma) => [sigma * normal(), sigma * normal(), sigma * normal()];
  const bases = BASES.map((place) => place.map((value, axis) => value + origin[axis]));
  const stated = bases.map((place) => place.map((value) => value + BASE_SIGMA_M * normal()));
  const days = BASES.map(() => Array.from({ length: 5 }, () => three(DAY_SIGMA_M)));
  const truths = new Map();
  const vectors = [];
  for (let p = 0; p < count; p += 1) {
    const id = `P${String(p + 1).padStart(6, '0')}`;
    const truth = [60000 * uniform(), 60000 * uniform(), 400 * uniform()].map((value, axis) => value + origin[axis]);
    truths.set(id, truth);
    const seen = times ?? 1 + Math.floor(3 * uniform());
    for (let k = 0; k < seen; k += 1) {
      const b = Math.floor(4 * uniform());
      const d = Math.floor(5 * uniform());
      const km = Math.hypot(truth[0] - bases[b][0], truth[1] - bases[b][1]) / 1000;
      const sigmas = [Math.hypot(0.008, 0.0005 * km), Math.hypot(0.008, 0.0005 * km), Math.hypot(0.015, 0.001 * km)];
      const difference = truth.map(
        (value, axis) => value - bases[b][axis] - days[b][d][axis] + sigmas[axis] * normal(),
      );
      vectors.push({
        fromId: `B${b + 1}`,
        toId: id,
        difference: point(difference),
        covariance: { xx: square(sigmas[0]), xy: 0, xz: 0, yy: square(sigmas[1]), yz: 0, zz: square(sigmas[2]) },
        shared: [{ error: `B${b + 1} day ${d + 1}`, along: 'whole' }],
      });
    }
  }
  const shared = BASES.flatMap((_, b) =>
    Array.from({ length: 5 }, (_unused, d) => ({
      name: `B${b + 1} day ${d + 1}`,
      of: `B${b + 1}`,
      covariance: {
        stationId: `B${b + 1}`,
        local: {
          eeM2: square(DAY_SIGMA_M),
          enM2: 0,
          euM2: 0,
          nnM2: square(DAY_SIGMA_M),
          nuM2: 0,
          uuM2: square(DAY_SIGMA_M),
        },
      },
    })),
  );
  const ellipsoid = ellipsoidOf(GRS80);
  const control = stated.map((place, b) => ({
    id: `B${b + 1}`,
    position: point(place),
    orthometricHeightM: null,
    held: 'weighted',
    covariance: even(BASE_SIGMA_M),
    heightVarianceM2: null,
  }));
  const network = {
    ellipsoid,
    vectors,
    levelled: [],
    distances: [],
    control,
    shared,
    geoidHeightM: new Map(),
    geoidError: null,
  };
  return { network, truths, random: { uniform, normal } };
}

function ellipsoidOf({ semiMajorAxisM, inverseFlattening }) {
  const flattening = 1 / inverseFlattening;
  return {
    name: 'GRS 80',
    semiMajorAxisM,
    inverseFlattening,
    flattening,
    eccentricitySquared: flattening * (2 - flattening),
  };
}

const PLAIN = { datum: 'control', excludesOutliers: false, estimatesVariance: false };

function solved(network) {
  const outcome = adjustNetwork(network, PLAIN);
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

function scale(count) {
  const { network } = made(count, 20260304);
  const start = process.hrtime.bigint();
  const adjusted = solved(network);
  const middle = process.hrtime.bigint();
  const points = networkPoints(
    adjusted,
    { ellipsoid: network.ellipsoid, grid: null, geoid: null, geoidSigmaM: null },
    networkRelations(adjusted),
    new Map(),
  );
  const end = process.hrtime.bigint();
  const seconds = (from, to) => (Number(to - from) / 1e9).toFixed(2);
  const peak = Math.round(process.resourceUsage().maxRSS / 1024);
  console.log(
    `${count} points, ${network.vectors.length} vectors: solved twice (free and held) with all variances and tests in ${seconds(start, middle)} s, ${points.length} points reported in ${seconds(middle, end)} s, ${peak} MB`,
  );
}

function rates(runs, from) {
  const counts = {
    points: 0,
    circle: 0,
    height: 0,
    relative: 0,
    relativeHeight: 0,
    alarms: 0,
    controlAlarms: 0,
    tests: 0,
    found: 0,
  };
  for (let run = 0; run < runs; run += 1) {
    const { network, truths, random } = made(40, 1000 + 7919 * (from + run), 3);
    const adjusted = solved(network);
    const points = networkPoints(
      adjusted,
      { ellipsoid: network.ellipsoid, grid: null, geoid: null, geoidSigmaM: null },
      networkRelations(adjusted),
      new Map(),
    );
    const { list } = adjusted.final.solved;
    for (const own of points) {
      const truth = truths.get(own.id);
      if (truth === undefined) continue;
      const apart = localOf(list.stations[list.indexOf.get(own.id)].place.frame, own.position, truth);
      counts.points += 1;
      if (Math.hypot(apart[0], apart[1]) <= own.summary.circle95M) counts.circle += 1;
      if (Math.abs(apart[2]) <= own.summary.vertical95M) counts.height += 1;
      const base = own.nearestControl;
      const b = Number(base.slice(1)) - 1;
      const origin = [5068000, 1988000, -3314000];
      const baseTruth = BASES[b].map((value, axis) => value + origin[axis]);
      const baseOwn = localOf(
        list.stations[list.indexOf.get(own.id)].place.frame,
        adjustedPosition(adjusted.final.solved, list.indexOf.get(base)),
        baseTruth,
      );
      if (Math.hypot(apart[0] - baseOwn[0], apart[1] - baseOwn[1]) <= own.relativeCircle95M) counts.relative += 1;
      if (Math.abs(apart[2] - baseOwn[2]) <= own.relativeVertical95M) counts.relativeHeight += 1;
    }
    if (fails(adjusted)) counts.alarms += 1;
    if (adjusted.control.points.some(({ test, checkedDirections }) => test > adjusted.controlLimit(checkedDirections)))
      counts.controlAlarms += 1;
    // One blunder of the smallest detectable size in one number of one vector.
    const k = Math.floor(random.uniform() * network.vectors.length);
    const axis = ['xM', 'yM', 'zM'][Math.floor(random.uniform() * 3)];
    const { tests, limits, solved: free } = adjusted.free;
    const at = free.built.origins.equationOf('vector', k);
    const size = Math.sqrt(
      limits.noncentrality(tests.checkedDirections[at]) / tests.of(at).detectability[['xM', 'yM', 'zM'].indexOf(axis)],
    );
    const vectors = network.vectors.map((vector, index) =>
      index === k
        ? { ...vector, difference: { ...vector.difference, [axis]: vector.difference[axis] + size } }
        : vector,
    );
    const bent = solved({ ...network, vectors }).free;
    counts.tests += 1;
    if (bent.tests.blockTest[at] > bent.limits.block(bent.tests.checkedDirections[at])) counts.found += 1;
  }
  const share = (part, of) => `${((100 * part) / of).toFixed(1)} %`;
  console.log(`${runs} networks of 40 points and 120 vectors, ${counts.points} points`);
  console.log(
    `circle 95 % holds the truth: ${share(counts.circle, counts.points)}, height: ${share(counts.height, counts.points)}`,
  );
  console.log(
    `relative to the nearest base: circle ${share(counts.relative, counts.points)}, height ${share(counts.relativeHeight, counts.points)}`,
  );
  console.log(
    `clean networks with an observation that fails: ${share(counts.alarms, runs)}, with a control point that fails: ${share(counts.controlAlarms, runs)}`,
  );
  console.log(`blunders of the smallest detectable size found: ${share(counts.found, counts.tests)}`);
}

/** Control seen from an own base; a point beside it is seen too. */
const CONTROL_SIGMA_M = 0.01;
/** 95 % of chi-square with three degrees of freedom. */
const CHI_SQUARE_95 = 7.814727903251179;

/** A day from a base on a mark that nobody knows: four points of control visited, and twenty others, in two set-ups. */
function unknownBaseDay(seed) {
  const { uniform, normal } = randomOf(seed);
  const origin = [5068000, 1988000, -3314000];
  const place = () => origin.map((value) => value + 8000 * (uniform() - 0.5));
  const truth = place();
  const setups = [0, 1].map(() => [0, 1, 2].map(() => DAY_SIGMA_M * normal()));
  const places = Array.from({ length: 24 }, place);
  const name = (p) => (p < 4 ? `C${p + 1}` : `P${p + 1}`);
  const vectors = places.map((own, p) => {
    const km = Math.hypot(...own.map((value, axis) => value - truth[axis])) / 1000;
    const sigma = Math.hypot(0.008, 0.0005 * km);
    const setup = setups[p % 2];
    return {
      fromId: 'U',
      toId: name(p),
      difference: point(own.map((value, axis) => value - truth[axis] - setup[axis] + sigma * normal())),
      covariance: even(sigma),
      shared: [{ error: `set-up ${p % 2}`, along: 'whole' }],
    };
  });
  const control = places.slice(0, 4).map((own, p) => ({
    id: name(p),
    position: point(own.map((value) => value + CONTROL_SIGMA_M * normal())),
    orthometricHeightM: null,
    held: 'weighted',
    covariance: even(CONTROL_SIGMA_M),
    heightVarianceM2: null,
  }));
  const network = {
    ellipsoid: ellipsoidOf(GRS80),
    vectors,
    levelled: [],
    distances: [],
    control,
    shared: [0, 1].map((k) => ({ name: `set-up ${k}`, of: 'U', covariance: even(DAY_SIGMA_M) })),
    geoidHeightM: new Map(),
    geoidError: null,
  };
  return { network, truth };
}

/** How often the place found for the unknown base lies within its 95 % ellipsoid about the truth. */
function unknownBase(runs) {
  let held = 0;
  let sum = 0;
  for (let run = 0; run < runs; run += 1) {
    const { network, truth } = unknownBaseDay(5000 + 6007 * run);
    const { solved: own, cofactors } = solved(network).final;
    const station = own.list.indexOf.get('U');
    const { xM, yM, zM } = adjustedPosition(own, station);
    const q = new Float64Array(9);
    cofactors.ofBlocks(station, station, q);
    const square = weighed(q, [xM - truth[0], yM - truth[1], zM - truth[2]]);
    sum += square;
    if (square <= CHI_SQUARE_95) held += 1;
  }
  console.log(
    `${runs} days from a base on an unknown mark: its 95 % ellipsoid holds the truth in ${((100 * held) / runs).toFixed(1)} %, mean of d'Q^-1 d ${(sum / runs).toFixed(2)} (expected 3)`,
  );
}

/** dᵀ Q⁻¹ d of three numbers, Q row by row. */
function weighed(q, d) {
  const minor = (a, b, c, e) => q[a] * q[e] - q[b] * q[c];
  const adjoint = [
    [minor(4, 5, 7, 8), -minor(1, 2, 7, 8), minor(1, 2, 4, 5)],
    [-minor(3, 5, 6, 8), minor(0, 2, 6, 8), -minor(0, 2, 3, 5)],
    [minor(3, 4, 6, 7), -minor(0, 1, 6, 7), minor(0, 1, 3, 4)],
  ];
  const determinant = q[0] * adjoint[0][0] + q[1] * adjoint[1][0] + q[2] * adjoint[2][0];
  return (
    d.reduce((sum, value, r) => sum + value * adjoint[r].reduce((part, a, c) => part + a * d[c], 0), 0) / determinant
  );
}

function fails({ free }) {
  const { checkedDirections, blockTest } = free.tests;
  return blockTest.some(
    (test, at) =>
      free.solved.built.origins.isMeasured(at) &&
      checkedDirections[at] > 0 &&
      test > free.limits.block(checkedDirections[at]),
  );
}

/** Of computed minus true, in the axes of a frame. */
function localOf({ sinLat, cosLat, sinLon, cosLon }, { xM, yM, zM }, truth) {
  const [x, y, z] = [xM - truth[0], yM - truth[1], zM - truth[2]];
  const outward = cosLon * x + sinLon * y;
  return [cosLon * y - sinLon * x, cosLat * z - sinLat * outward, cosLat * outward + sinLat * z];
}

/** What is planted in the vectors of B2, B3 and B4, millionths: some four to six of its sigmas. Points lie kilometres above and below the bases here. */
const PLANTED = { 'scale of base B2': 1.2, 'turn about up of base B3': -1.2, 'zenith delay of base B4': 1.2 };
const DISTORTIONS = ['scale', 'turn-east', 'turn-north', 'turn-up', 'zenith-delay'];

/** Up of a place in the middle of the made network, and everywhere in it to half a degree. */
function upOf([x, y, z]) {
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}

/** The vectors with what is planted in them. */
function distorted({ vectors }, origin) {
  const axis = upOf(BASES[2].map((value, k) => value + origin[k]));
  return vectors.map((vector) => {
    const { xM: x, yM: y, zM: z } = vector.difference;
    const base = BASES[Number(vector.fromId.slice(1)) - 1].map((value, k) => value + origin[k]);
    const end = [base[0] + x, base[1] + y, base[2] + z];
    const [up, rise] = [upOf(end), heightOf(end) - heightOf(base)];
    const bent = {
      B2: [x, y, z].map((value) => PLANTED['scale of base B2'] * value),
      B3: [axis[1] * z - axis[2] * y, axis[2] * x - axis[0] * z, axis[0] * y - axis[1] * x].map(
        (value) => PLANTED['turn about up of base B3'] * value,
      ),
      B4: up.map((value) => PLANTED['zenith delay of base B4'] * rise * value),
    }[vector.fromId] ?? [0, 0, 0];
    return { ...vector, difference: point([x + 1e-6 * bent[0], y + 1e-6 * bent[1], z + 1e-6 * bent[2]]) };
  });
}

/** Height above the ellipsoid, by repetition. */
function heightOf([x, y, z]) {
  const { eccentricitySquared: e2, semiMajorAxisM } = ellipsoidOf(GRS80);
  const across = Math.hypot(x, y);
  let latitude = Math.atan2(z, across * (1 - e2));
  let curve = semiMajorAxisM;
  for (let turn = 0; turn < 8; turn += 1) {
    curve = semiMajorAxisM / Math.sqrt(1 - e2 * Math.sin(latitude) ** 2);
    latitude = Math.atan2(z + e2 * curve * Math.sin(latitude), across);
  }
  return across * Math.cos(latitude) + z * Math.sin(latitude) - curve * (1 - e2 * Math.sin(latitude) ** 2);
}

/** How often distortions are kept that are not there, and those that are there found, with their sigmas. */
function distortions(runs, from) {
  const search = { kinds: DISTORTIONS, by: 'base' };
  const choice = { ...PLAIN, distortions: search };
  let clean = 0;
  const found = new Map(Object.keys(PLANTED).map((name) => [name, { kept: 0, within: 0, squares: 0 }]));
  let others = 0;
  for (let run = 0; run < runs; run += 1) {
    const { network } = made(60, 2000 + 7919 * (from + run), 3);
    const plain = adjustNetwork(network, choice);
    if (!plain.ok) throw new Error('not adjusted');
    if (plain.value.distortions.findings.some(({ answer }) => answer === 'kept')) clean += 1;
    const bent = adjustNetwork({ ...network, vectors: distorted(network, [5068000, 1988000, -3314000]) }, choice);
    if (!bent.ok) throw new Error('not adjusted');
    for (const { candidate, answer, evidence } of bent.value.distortions.findings) {
      const own = found.get(candidate.name);
      if (own === undefined) {
        if (answer === 'kept') others += 1;
        continue;
      }
      // What it would be beside those kept is taken of every run: of those kept alone the mean would be too large.
      const square = ((evidence.valuePpm - PLANTED[candidate.name]) / evidence.sigmaPpm) ** 2;
      if (answer === 'kept') own.kept += 1;
      if (square <= 3.841458820694124) own.within += 1;
      own.squares += square;
    }
  }
  const share = (part) => `${((100 * part) / runs).toFixed(1)} %`;
  console.log(`${runs} networks of 60 points and 180 vectors; clean ones that keep a distortion: ${share(clean)}`);
  for (const [name, { kept, within, squares }] of found)
    console.log(
      `${name}, ${PLANTED[name]} mm a km: kept in ${share(kept)}, within 95 % of its sigma in ${share(within)}, mean of squares ${(squares / runs).toFixed(2)}`,
    );
  console.log(`others kept beside them: ${share(others)}`);
}

const [what = 'rates', number, from = '0'] = process.argv.slice(2);
if (what === 'scale') scale(Number(number ?? 50000));
else if (what === 'unknown-base') unknownBase(Number(number ?? 2000));
else if (what === 'distortions') distortions(Number(number ?? 400), Number(from));
else rates(Number(number ?? 400), Number(from));
