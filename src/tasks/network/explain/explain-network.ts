import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt, present } from '../../../records/present.js';
import type { NetworkPoint } from '../../../records/reports/network-report.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { coordinateStep } from './coordinate-lines.js';
import { equationStep } from './equation-lines.js';
import { normalStep, weightStep } from './normal-lines.js';
import { stationParts } from './station-parts.js';
import { testStep } from './test-lines.js';
import { verdictStep } from './verdict-lines.js';
import type { NetworkResults } from '../network-results.js';

/**
 * How a station came to its coordinates, for a reader with a calculator: what each observation says of it, the weights, its own
 * normal equations with the neighbours as adjusted, residuals and tests, the verdicts, and the figures at 95 %.
 *
 * Given: the results; the station as reported. Returned: the steps.
 */
export function explainStation(results: NetworkResults, point: NetworkPoint): readonly WorkingStep[] {
  const { adjusted, relations, systems } = results;
  const { list } = adjusted.final.solved;
  const station = present(list.indexOf.get(point.id), 'the station that is explained');
  const parts = stationParts(adjusted, station);
  const verdict = verdictStep(adjusted, parts);
  const equations = equationStep(point.id, parts);
  return [
    { ...equations, result: [...equations.result, heldLine(adjusted, point.id), ...leftOutAt(adjusted, point.id)] },
    weightStep(parts),
    ...(parts.isFixed ? [] : [normalStep(point.id, parts)]),
    testStep(adjusted, parts),
    ...(verdict === null ? [] : [verdict]),
    ...(parts.isFixed
      ? []
      : [
          coordinateStep(
            point,
            relations.block(station, station),
            entryAt(list.stations, station).place?.frame ?? null,
            adjusted.scale,
            systems,
          ),
        ]),
  ];
}

function heldLine({ network, held }: AdjustedNetwork, id: string): string {
  const control = held.find((index) => entryAt(network.control, index).id === id);
  return control === undefined
    ? 'it is not held: its place follows from the observations alone'
    : `it is control (${entryAt(network.control, control).held}), and holds the network with others`;
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
    return [`${kind} ${fromId} to ${toId}: left out, and gives it nothing: ${why}`];
  });
}
