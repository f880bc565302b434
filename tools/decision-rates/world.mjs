// What the simulated measurements suffer from. The sizes are those that docs/methods/uncertainty.md claims; the ways in which they
// come about are the simulation's own: receivers at either end, a gradient of the atmosphere across the area, water vapour
// by height, sinusoids in time.
import { slowError } from './slow-error.mjs';

/** One sigma per axis: [horizontal, vertical], metres, metres a metre. The page's planning model for `normal` conditions. */
const CONSTANT_M = [0.006, 0.012];
const IONOSPHERE = [0.4e-6, 0.8e-6];
const TROPOSPHERE_HORIZONTAL = 0.1e-6;
const ORBIT = [0.03e-6, 0.05e-6];
const ZENITH_TO_HEIGHT = 2.7;
const ZENITH_PER_DISTANCE = 0.25e-6;
const ZENITH_PER_HEIGHT = 0.012e-3;
/** Noise from epoch to epoch: the model makes no claim; a receiver that reports SIGMAS_REPORTED_M scatters somewhat less. */
const WHITE_M = [0.004, 0.008];
export const SIGMAS_REPORTED_M = [0.006, 0.012];

/** Noise with long tails of another shape than Student's: so many stands have so many times the slow error. */
const CONTAMINATED_SHARE = 0.05;
const CONTAMINATED_FACTOR = 3;

/** How a world may differ from the model. */
export const WORLD = {
  tau: 1,
  ionosphere: 1,
  isHeavyTailed: false,
  isContaminated: false,
  multipathM: null,
  slow: 1,
  compassSigmaDeg: 1,
};

/** Correlation times in seconds at a baseline, [horizontal, vertical]. */
export function correlationTimes(distanceM) {
  const share = Math.min(1, Math.max(0, (distanceM - 10_000) / 10_000));
  return [115 + share * (600 - 115), 300 + share * (2200 - 300)];
}

/** One sigma per axis of the slow error at a baseline, [horizontal, vertical]: what the realised errors should show. */
export function slowSigmas(distanceM, heightDifferenceM, world = WORLD) {
  const ionosphere = IONOSPHERE.map((value) => value * world.ionosphere * distanceM);
  const zenith = ZENITH_TO_HEIGHT * Math.hypot(ZENITH_PER_DISTANCE * distanceM, ZENITH_PER_HEIGHT * heightDifferenceM);
  return [
    Math.hypot(CONSTANT_M[0], ionosphere[0], TROPOSPHERE_HORIZONTAL * distanceM, ORBIT[0] * distanceM),
    Math.hypot(CONSTANT_M[1], ionosphere[1], zenith, ORBIT[1] * distanceM),
  ];
}

const many = (count, random) => Array.from({ length: count }, () => slowError(random));

/** A receiver's own slow error, three axes; one for each place that an antenna stands on. */
export const receiverAt = (random) => many(3, random);

/** The atmosphere over a day: how each axis answers to a baseline east and north, and height to a difference of height. */
export const atmosphereOf = (random) => ({
  plan: many(4, random),
  height: many(2, random),
  zenith: many(2, random),
  byHeight: slowError(random),
});

/**
 * Errors of the epochs of one stand along east, north and up, without those of base coordinate and pole.
 * Given: `line` (east, north, distance, heightDifference of the rover from its base, metres), the two receivers, the atmosphere, times.
 */
export function epochErrors({ world, random, air, baseReceiver, roverReceiver, line, startS, stepS, count }) {
  const axes = [0, 1, 2].map(() => new Float64Array(count));
  const [tauH, tauV] = correlationTimes(line.distance).map((tau) => tau * world.tau);
  const add = (error, axis, factor) => {
    if (factor !== 0) error.addTo(axes[axis], factor * world.slow, axis < 2 ? tauH : tauV, startS, stepS);
  };
  for (const axis of [0, 1, 2]) {
    const share = CONSTANT_M[axis < 2 ? 0 : 1] * Math.SQRT1_2;
    add(baseReceiver[axis], axis, share);
    add(roverReceiver[axis], axis, -share);
  }
  const planPerMetre = Math.hypot(IONOSPHERE[0] * world.ionosphere, TROPOSPHERE_HORIZONTAL, ORBIT[0]);
  const heightPerMetre = Math.hypot(IONOSPHERE[1] * world.ionosphere, ORBIT[1]);
  [line.east, line.north].forEach((part, i) => {
    add(air.plan[i], 0, planPerMetre * part);
    add(air.plan[2 + i], 1, planPerMetre * part);
    add(air.height[i], 2, heightPerMetre * part);
    add(air.zenith[i], 2, ZENITH_TO_HEIGHT * ZENITH_PER_DISTANCE * part);
  });
  add(air.byHeight, 2, ZENITH_TO_HEIGHT * ZENITH_PER_HEIGHT * line.heightDifference);
  if (world.isHeavyTailed) {
    // One factor for the whole stand makes its slow error a Student t of 4 degrees of freedom, scaled to the same variance.
    const factor = Math.SQRT1_2 / Math.sqrt(random.meanSquare(4));
    for (const axis of axes) axis.forEach((value, i) => (axis[i] = value * factor));
  }
  if (world.isContaminated && random.between(0, 1) < CONTAMINATED_SHARE)
    for (const axis of axes) axis.forEach((value, i) => (axis[i] = value * CONTAMINATED_FACTOR));
  if (world.multipathM !== null) addMultipath(axes, world.multipathM, random, startS, stepS);
  addWhite(axes, world, random);
  return axes;
}

/** A reflection: one sinusoid of some minutes on each axis, on top of everything else. */
function addMultipath(axes, [planM, heightM], random, startS, stepS) {
  axes.forEach((axis, k) => {
    const period = random.between(120, 900);
    const phase = random.between(0, 2 * Math.PI);
    for (let i = 0; i < axis.length; i += 1)
      axis[i] += (k < 2 ? planM : heightM) * Math.cos((2 * Math.PI * (startS + i * stepS)) / period + phase);
  });
}

function addWhite(axes, world, random) {
  axes.forEach((axis, k) => {
    const sigma = WHITE_M[k < 2 ? 0 : 1];
    for (let i = 0; i < axis.length; i += 1)
      axis[i] += sigma * (world.isHeavyTailed ? random.student(4) * Math.SQRT1_2 : random.normal());
  });
}
