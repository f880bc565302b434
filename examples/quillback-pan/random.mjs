import { PI, cos, exp, log, sin } from './exact-arithmetic.mjs';

/**
 * Random numbers from a seed, the same in every run: a 32-bit counter stepped by the golden ratio and
 * scrambled by multiplications and shifts. `normal` is by the polar form of Box and Muller.
 */
export function createRandom(seed) {
  let state = Math.imul((seed ^ 0x5bd1e995) >>> 0, 0x27d4eb2f) >>> 0;
  let spare = null;
  const uniform = () => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return ((z ^ (z >>> 15)) >>> 0) / 4294967296;
  };
  const normal = () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    const radius = Math.sqrt(-2 * log(1 - uniform()));
    const angle = 2 * PI * uniform();
    spare = radius * sin(angle);
    return radius * cos(angle);
  };
  return { uniform, normal };
}

/**
 * A slowly changing error of unit variance: a first-order Gauss–Markov process, exact at any spacing.
 * `at(timeS)` gives its value at a time not before the last one asked for.
 */
export function createSlowError(random, correlationS) {
  let value = random.normal();
  let lastS = null;
  let stepS = -1;
  let keep = 0;
  let fresh = 0;
  return {
    at(timeS) {
      const elapsed = lastS === null ? 0 : timeS - lastS;
      if (elapsed > 0) {
        if (elapsed !== stepS) {
          stepS = elapsed;
          keep = elapsed > 40 * correlationS ? 0 : exp(-elapsed / correlationS);
          fresh = Math.sqrt(1 - keep * keep);
        }
        value = keep * value + fresh * random.normal();
      }
      lastS = timeS;
      return value;
    },
  };
}
