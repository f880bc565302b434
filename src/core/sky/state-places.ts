import type { StateElements } from '../../records/sky/orbit-elements.js';
import { entryAt } from '../../records/present.js';

/** PZ-90.11 as GLONASS uses it: product of gravity, m³/s²; equatorial radius, m; second zonal harmonic; rotation, rad/s. From memory of GLONASS-ICD, 5.1. */
const GRAVITY = 3.9860044e14;
const RADIUS_M = 6_378_136;
const ZONAL = 1.0826257e-3;
const ROTATION = 7.292115e-5;

/** Longest step of the integration: of a minute its error stays below a millimetre in an hour. */
const LONGEST_STEP_S = 60;

/**
 * Where a satellite is at some instants, carried on from its state.
 *
 * Given: state; instants in any order, milliseconds on the clock of GPS. Returned: X, Y, Z of each, metres, Earth-fixed (PZ-90, which
 * lies within decimetres of WGS 84). Method: fourth-order Runge–Kutta steps of a minute at most, from the reference time outwards on both sides;
 * gravity with its second zonal harmonic, the turning of the frame, and the pull of sun and moon as sent.
 * Reference: GLONASS-ICD, 5.1, section on recalculation of ephemerides by numerical integration, from memory.
 */
export function statePlaces(elements: StateElements, instants: readonly number[]): Float64Array {
  const places = new Float64Array(3 * instants.length);
  const pull = [elements.axMPerS2, elements.ayMPerS2, elements.azMPerS2] as const;
  const order = instants
    .map((gpsMs, index) => ({ index, seconds: (gpsMs - elements.referenceMs) / 1000 }))
    .sort((a, b) => Math.abs(a.seconds) - Math.abs(b.seconds));
  for (const isLater of [true, false]) {
    let state: Float64Array = Float64Array.of(
      ...[elements.xM, elements.yM, elements.zM, elements.vxMPerS, elements.vyMPerS, elements.vzMPerS],
    );
    let reachedS = 0;
    for (const { index, seconds } of order) {
      if (seconds >= 0 !== isLater) continue;
      state = carriedOn(state, pull, seconds - reachedS);
      reachedS = seconds;
      for (let axis = 0; axis < 3; axis += 1) places[3 * index + axis] = entryAt(state, axis);
    }
  }
  return places;
}

type Pull = readonly [number, number, number];

function carriedOn(from: Float64Array, pull: Pull, seconds: number): Float64Array {
  const steps = Math.ceil(Math.abs(seconds) / LONGEST_STEP_S);
  const h = steps === 0 ? 0 : seconds / steps;
  const state = Float64Array.from(from);
  const between = new Float64Array(6);
  const rates = [new Float64Array(6), new Float64Array(6), new Float64Array(6), new Float64Array(6)] as const;
  const [first, second, third, fourth] = rates;
  const halfway = (rate: Float64Array, share: number): Float64Array => {
    for (let i = 0; i < 6; i += 1) between[i] = state[i]! + share * h * rate[i]!;
    return between;
  };
  for (let step = 0; step < steps; step += 1) {
    rateOf(state, pull, first);
    rateOf(halfway(first, 0.5), pull, second);
    rateOf(halfway(second, 0.5), pull, third);
    rateOf(halfway(third, 1), pull, fourth);
    for (let i = 0; i < 6; i += 1)
      state[i] = state[i]! + (h / 6) * (first[i]! + 2 * second[i]! + 2 * third[i]! + fourth[i]!);
  }
  return state;
}

/** Velocity and acceleration of a state in the frame that turns with the Earth. */
function rateOf(state: Float64Array, pull: Pull, into: Float64Array): void {
  const [x, y, z] = [state[0]!, state[1]!, state[2]!];
  const [vx, vy, vz] = [state[3]!, state[4]!, state[5]!];
  const square = x * x + y * y + z * z;
  const centre = GRAVITY / (square * Math.sqrt(square));
  const flat = (1.5 * ZONAL * RADIUS_M * RADIUS_M) / square;
  const sink = (5 * z * z) / square;
  const inPlane = ROTATION * ROTATION - centre * (1 + flat * (1 - sink));
  into[0] = vx;
  into[1] = vy;
  into[2] = vz;
  into[3] = inPlane * x + 2 * ROTATION * vy + pull[0];
  into[4] = inPlane * y - 2 * ROTATION * vx + pull[1];
  into[5] = -centre * (1 + flat * (3 - sink)) * z + pull[2];
}
