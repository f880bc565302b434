import type { AdjustedNetwork } from '../../core/network/adjust-network.js';
import { biasReach } from '../../core/network/bias-reach.js';
import { observationAt } from '../../core/network/block-equations.js';
import type { BlockObservation } from '../../core/network/block-equations.js';
import { isMeasured } from '../../core/network/equation-origins.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { present } from '../../records/present.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { NetworkPoint } from '../../records/reports/network-report.js';

const mm = (value: number | null): string => (value === null ? '-' : formatFixed(value * 1000, 2));

/**
 * How a station came to its coordinates: its observations with their sigmas, residuals, redundancy and tests, and how far each
 * moves it; then what the whole says of the station.
 *
 * Given: the adjustment; the station as reported. Returned: lines of text.
 */
export function explainStation(adjusted: AdjustedNetwork, point: NetworkPoint): readonly string[] {
  const { network, final, held } = adjusted;
  const { solved, cofactors, tests, limits } = final;
  const { built, solution, list } = solved;
  const station = list.indexOf.get(point.id)!;
  const lines = [`Station ${point.id}`, ''];
  const control = held.find((index) => network.control[index]!.id === point.id);
  lines.push(
    control === undefined
      ? 'It is not held: its place follows from the observations alone.'
      : `It is control (${network.control[control]!.held}), and holds the network with others.`,
    '',
    'Observations: x, y, z in mm, of a single number the number; influence is how far one sigma of the observation moves the station.',
  );
  const reachOf = biasReach(solution, cofactors);
  const { termStarts, termBlocks } = solution.equations;
  for (let at = 0; at < built.origins.length; at += 1) {
    const { kind, index } = built.origins.of(at);
    if (!isMeasured(kind) || !termBlocks.subarray(termStarts[at], termStarts[at + 1]).includes(station)) continue;
    const observation = observationAt(solution.equations, at);
    const { fromId, toId } = { vector: network.vectors, levelled: network.levelled, distance: network.distances }[kind][
      index
    ]!;
    const test = tests.of(at);
    const m = observation.observed.length;
    const across = new Float64Array(m * present(solution.equations.sizes[station], 'the size of a station'));
    cofactors.acrossTo(station, at, across);
    const moved = influenceSquared(across, observation);
    const noncentrality = test.checkedDirections === 0 ? 1 : limits.noncentrality(test.checkedDirections);
    const reach = reachOf(at, station) * Math.sqrt(noncentrality);
    const list3 = (values: ArrayLike<number | null>, of: (value: number | null) => string): string =>
      Array.from(values, of).join(', ');
    lines.push(
      `  ${kind} ${fromId} to ${toId}: sigma ${list3(
        Array.from({ length: m }, (_, r) => 1 / Math.sqrt(observation.weight[r * m + r]!)),
        mm,
      )}; residual ${list3(test.residuals, mm)}; redundancy ${list3(test.redundancy, (value) => formatFixed(present(value, 'redundancy'), 3))}; w ${list3(test.w, (value) => (value === null ? '-' : formatFixed(value, 2)))}`,
      `    influence ${mm(Math.sqrt(moved))} mm; ${reach === Infinity ? 'nothing checks it: a blunder in it goes into the station whole' : `a blunder that just hides moves the station by ${mm(reach)} mm at most`}`,
    );
  }
  pushAll(lines, leftOutAt(adjusted, point.id));
  lines.push(
    '',
    `Together: ${point.isChecked ? 'checked' : 'unchecked'}; redundancy ${formatFixed(point.redundancy, 3)}`,
    ...(point.summary === null
      ? [`height 95 % ${mm(1.959964 * point.sigmaUpM)} mm`]
      : [
          `circle 95 % ${mm(point.summary.circle95M)} mm, height 95 % ${mm(point.summary.vertical95M)} mm`,
          ...(point.nearestControl === null
            ? []
            : [
                `relative to ${point.nearestControl}: circle 95 % ${mm(point.relativeCircle95M)} mm, height 95 % ${mm(point.relativeVertical95M)} mm`,
              ]),
        ]),
    'Source: least squares (AITKEN-1935), tests (BAARDA-1968); see docs/methods/network.md',
  );
  return lines;
}

/** A line of each observation of a station that was left out, and why. */
function leftOutAt({ network, excluded }: AdjustedNetwork, id: string): readonly string[] {
  return excluded.flatMap(({ kind, index, test, limit }): readonly string[] => {
    const list = { vector: network.vectors, levelled: network.levelled, distance: network.distances }[kind];
    const { fromId, toId } = present(list[index], 'an observation that was left out');
    if (fromId !== id && toId !== id) return [];
    const why =
      test === null || limit === null
        ? 'it lies far from where most observations meet'
        : `its test was ${formatFixed(test, 1)}, the limit ${formatFixed(limit, 1)}`;
    return [`  ${kind} ${fromId} to ${toId}: left out, and gives it nothing: ${why}`];
  });
}

/** The square of how far one sigma of each number of an observation moves a station, together. */
function influenceSquared(across: Float64Array, { weight, observed }: BlockObservation): number {
  const m = observed.length;
  let moved = 0;
  for (let a = 0; a < across.length / m; a += 1)
    for (let r = 0; r < m; r += 1) {
      let by = 0;
      for (let s = 0; s < m; s += 1) by += across[a * m + s]! * weight[s * m + r]!;
      moved += by * by * (1 / weight[r * m + r]!);
    }
  return moved;
}
