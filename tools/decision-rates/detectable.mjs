// The smallest size of a mistake that any test could be asked to find, from the covariance that the simulation itself draws from.
import { toLocal, axesAt, minus, toGeocentric } from './earth.mjs';
import { correlationTimes, slowSigmas, WORLD } from './world.mjs';
import { CONTROL_SIGMAS_M } from './survey.mjs';

/**
 * Root of the noncentrality at which χ² of so many unknowns passes its point of 0.5 % / 100 in 90 %: 0.5 % of days shared over 100
 * places to look at. One unknown: the size of a mistake whose way is known; three: that of one in space, whose way no test knows
 * beforehand. By SciPy (stats.ncx2, stats.chi2), which gives 17.0746 for 0.1 %, 80 % and one unknown as BAARDA-1968 does.
 */
const ROOT_OF_NONCENTRALITY = { 1: 5.33718, 3: 5.83998 };
const PLUMB_M = 2 * 0.1 * (Math.PI / 180);
const POLE_M = 0.001;
/** Constant part of the slow error, as in world.mjs: half of its variance belongs to the base's receiver, half to the rover's place. */
const CONSTANT_SHARE = 0.5;

/**
 * Given: the stands of a day (`pointId`, `site`, `base`, `startS`) and the effect of a mistake of one metre on each residual,
 * as east, north and up; its unknowns. Returned: metres at which the best test there is, told where it is, finds it in 90 %.
 */
export function minimalDetectable(stands, effects, unknowns) {
  let information = 0;
  for (const axis of [0, 1, 2]) {
    const effect = effects.map((one) => one[axis]);
    if (effect.every((value) => value === 0)) continue;
    const solved = solve(covariance(stands, axis), effect);
    information += effect.reduce((sum, value, i) => sum + value * solved[i], 0);
  }
  return ROOT_OF_NONCENTRALITY[unknowns] / Math.sqrt(information);
}

/** Covariance of residuals measured − known along one axis, m². */
function covariance(stands, axis) {
  const v = axis === 2 ? 1 : 0;
  const lines = stands.map(({ site, base }) => {
    const [e, n, u] = toLocal(axesAt(base.mark.place), minus(toGeocentric(site.place), toGeocentric(base.mark.place)));
    return { e, n, d: Math.hypot(e, n), u };
  });
  const constant = slowSigmas(0, 0)[v] ** 2;
  const perMetre2 = growthPerMetre2(v);
  const perHeight2 = v === 0 ? 0 : slowSigmas(0, 1)[1] ** 2 - constant;
  return stands.map((a, i) =>
    stands.map((b, j) => {
      const s = a.startS / correlationTimes(lines[i].d)[v] - b.startS / correlationTimes(lines[j].d)[v];
      const isSamePlace = a.site === b.site;
      const apart = Math.exp(-Math.abs(s));
      const slow =
        constant * (CONSTANT_SHARE + (isSamePlace ? CONSTANT_SHARE : 0)) +
        perMetre2 * (lines[i].e * lines[j].e + lines[i].n * lines[j].n) +
        perHeight2 * lines[i].u * lines[j].u;
      let sum = slow * apart + a.base.mark.sigmasM[v] ** 2 + (isSamePlace ? CONTROL_SIGMAS_M[v] ** 2 : 0);
      if (v === 1) sum += POLE_M ** 2;
      else if (i === j) sum += PLUMB_M ** 2;
      return sum;
    }),
  );
}

/** What a metre of baseline adds to the variance, m² a m², without the constant. */
function growthPerMetre2(v) {
  const reach = 10_000;
  return (slowSigmas(reach, 0, WORLD)[v] ** 2 - slowSigmas(0, 0)[v] ** 2) / reach ** 2;
}

/** A⁻¹ b of a positive definite matrix, by Cholesky. */
function solve(matrix, b) {
  const n = b.length;
  const l = matrix.map((row) => [...row]);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = matrix[i][j];
      for (let k = 0; k < j; k += 1) sum -= l[i][k] * l[j][k];
      l[i][j] = i === j ? Math.sqrt(sum) : sum / l[j][j];
    }
  }
  const y = [...b];
  for (let i = 0; i < n; i += 1) {
    for (let k = 0; k < i; k += 1) y[i] -= l[i][k] * y[k];
    y[i] /= l[i][i];
  }
  for (let i = n - 1; i >= 0; i -= 1) {
    for (let k = i + 1; k < n; k += 1) y[i] -= l[k][i] * y[k];
    y[i] /= l[i][i];
  }
  return y;
}
