import { warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { entryAt } from '../../../../records/present.js';
import type { NetworkPlaces } from '../../../../tasks/network/input/assemble-network.js';
import type { NetworkResults } from '../../../../tasks/network/network-results.js';
import { worstFirst } from '../../../../tasks/network/worst-first.js';

/** A warning for each observation and each control point that fails, the worst first, or was left out, where it stands. */
export function networkWarnings(places: NetworkPlaces, found: NetworkResults): readonly Problem[] {
  const { observations, control } = found;
  const leftOut = observations.filter(({ reasons }) => reasons.includes('network-excluded'));
  return [
    ...[...worstFirst(found), ...leftOut].flatMap(
      ({ kind, index, fromId, toId, reasons, verdict }): readonly Problem[] => {
        const [reason] = reasons;
        if (verdict !== 'no' || reason === undefined) return [];
        const { source, line } = entryAt(places[kind], index);
        return [
          warningProblem(reason, {
            message: `${kind} ${fromId} to ${toId} ${reason === 'network-excluded' ? 'was left out' : 'does not agree with the others'}`,
            where: { source, line },
          }),
        ];
      },
    ),
    ...control.flatMap(({ id, reasons, verdict }): readonly Problem[] => {
      const [reason] = reasons;
      if (verdict !== 'no' || reason === undefined) return [];
      return [
        warningProblem(reason, {
          message: `control ${id} ${reason === 'network-excluded' ? 'was left out' : 'does not agree with the network and the other control'}`,
        }),
      ];
    }),
  ];
}
