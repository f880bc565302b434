/** Points of the normal distribution: 97.5 %, for an interval of 95 %. */
const Z95 = 1.959963984540054;
/** How seldom a sample may be as bad as this by chance before it counts against the floor. */
export const LEVEL = 0.01;

/** Wilson's interval of 95 % for a share of `killed` in `of`; the whole range where nothing was tried. */
export function interval(killed, of) {
  if (of === 0) return { low: 0, high: 1 };
  const share = killed / of;
  const z2 = Z95 * Z95;
  const middle = (share + z2 / (2 * of)) / (1 + z2 / of);
  const half = (Z95 * Math.sqrt((share * (1 - share)) / of + z2 / (4 * of * of))) / (1 + z2 / of);
  return { low: middle - half, high: middle + half };
}

/** The chance of `killed` or fewer in `of` where each is killed with the chance `floor`, summed term by term. */
export function chanceOfSoFew(killed, of, floor) {
  if (killed >= of) return 1;
  let log = of * Math.log1p(-floor);
  let sum = Math.exp(log);
  for (let k = 1; k <= killed; k += 1) {
    log += Math.log((of - k + 1) / k) + Math.log(floor) - Math.log1p(-floor);
    sum += Math.exp(log);
  }
  return Math.min(1, sum);
}

/**
 * What speaks against the floors: nothing, or a line for each room, and for all, that lies below. A sample lies below where it
 * would come by chance less often than LEVEL if the room stood at its floor; the whole lies below where its share does.
 *
 * @param {readonly { room: string, isKilled: boolean }[]} results
 * @param {{ all: number, rooms: Record<string, number> }} floors shares
 * @param {boolean} isWhole every change was tried
 */
export function belowFloors(results, floors, isWhole) {
  const parts = [['all', floors.all, results]];
  for (const [room, floor] of Object.entries(floors.rooms))
    parts.push([room, floor, results.filter((result) => result.room === room)]);
  return parts.flatMap(([name, floor, own]) => {
    const killed = own.filter(({ isKilled }) => isKilled).length;
    const isBelow = isWhole
      ? own.length > 0 && killed / own.length < floor
      : chanceOfSoFew(killed, own.length, floor) < LEVEL;
    return isBelow
      ? [`${name}: ${String(killed)} of ${String(own.length)} killed, and the floor is ${String(100 * floor)} %`]
      : [];
  });
}
