const SCANNED = 24;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const STEPS = 30;

/** Where a function of one number is least: a scan, and golden sections about the least of it. Given: the function; its range. */
export function leastOf(value: (at: number) => number, least: number, most: number): number {
  let best = { at: (least + most) / 2, value: value((least + most) / 2) };
  const look = (at: number): number => {
    const found = value(at);
    if (found < best.value) best = { at, value: found };
    return found;
  };
  const step = (most - least) / SCANNED;
  for (let i = 0; i <= SCANNED; i += 1) look(least + i * step);
  let [low, high] = [Math.max(least, best.at - step), Math.min(most, best.at + step)];
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atA, atB] = [look(a), look(b)];
  for (let i = 0; i < STEPS; i += 1) {
    if (atA < atB) {
      [high, b, atB] = [b, a, atA];
      a = high - GOLDEN * (high - low);
      atA = look(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + GOLDEN * (high - low);
      atB = look(b);
    }
  }
  return best.at;
}
