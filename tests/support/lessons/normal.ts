/** The part of normal numbers within k sigmas on both sides, by Simpson's rule over the density. */
export function withinSigmas(k: number): number {
  const steps = 2000;
  const sum = Array.from({ length: steps + 1 }, (_, i) => {
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    return weight * Math.exp(-0.5 * ((i * k) / steps) ** 2);
  }).reduce((total, term) => total + term, 0);
  return ((2 / Math.sqrt(2 * Math.PI)) * (sum * k)) / steps / 3;
}

/** How many sigmas hold this part of normal numbers on both sides, by bisection. */
export function sigmasHolding(part: number): number {
  let [low, high] = [0, 8];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (withinSigmas(middle) < part) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The part of two independent normal numbers of one sigma within a circle of k sigmas. */
export function withinCircle(k: number): number {
  return 1 - Math.exp((-k * k) / 2);
}

/** The radius in sigmas of the circle that holds this part. */
export function circleHolding(part: number): number {
  return Math.sqrt(-2 * Math.log(1 - part));
}
