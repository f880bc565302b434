import type { Network } from '../../../core/network/network.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt } from '../../../records/present.js';
import type { NetworkDistortion, NetworkObservationResult } from '../../../records/reports/network-report.js';
import type { NetworkPageReport } from '../../../records/reports/network-page-report.js';
import { keepMostNeeded } from '../../repeats/keep-most-needed.js';
import type { NetworkResults } from '../network-results.js';

/** Rows of a table: a page stays well under two megabytes. */
export const MOST_ROWS = 1000;

interface LineEnds {
  readonly fromId: string;
  readonly toId: string;
}

/** The ends of a measured observation. */
export function endsOf(network: Network, kind: NetworkObservationResult['kind'], index: number): LineEnds {
  const lists: Readonly<Record<typeof kind, readonly LineEnds[]>> = {
    vector: network.vectors,
    levelled: network.levelled,
    distance: network.distances,
  };
  return entryAt(lists[kind], index);
}

/** Those kept first, then those that hang on one observation, then what is left. */
export function distortionsOf({ adjusted, distortions }: NetworkResults): NetworkPageReport['distortions'] {
  if (adjusted.distortions === null) return null;
  const kept = keepMostNeeded<NetworkDistortion>(MOST_ROWS);
  const need = { kept: 2, 'one-alone': 1, 'not-significant': 0, undetermined: 0 } as const;
  for (const one of distortions) kept.add(need[one.answer], one);
  return {
    level: adjusted.distortions.level,
    rows: [...kept.items()].sort((a, b) => need[b.answer] - need[a.answer]),
    count: distortions.length,
  };
}

/** What was left out, and why, in the order it went. */
export function removedOf({ adjusted }: NetworkResults): NetworkPageReport['removed'] {
  const { network } = adjusted;
  return [
    ...adjusted.excluded.slice(0, MOST_ROWS).map(({ kind, index, test, limit }) => {
      const { fromId, toId } = endsOf(network, kind, index);
      return {
        what: `${kind} ${fromId} to ${toId}`,
        why:
          test === null || limit === null
            ? 'it lies far from where most observations meet'
            : `its test was ${formatFixed(test, 1)}, the limit ${formatFixed(limit, 1)}, and nothing it agrees with brought it back`,
      };
    }),
    ...adjusted.excludedControl.map((index) => ({
      what: `control ${entryAt(network.control, index).id}`,
      why: 'the network and the other control say another place',
    })),
  ];
}
