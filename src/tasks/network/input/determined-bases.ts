import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { present } from '../../../records/present.js';
import type { DeterminedBase, NetworkPoint } from '../../../records/reports/network-report.js';
import { NEW_SETUP } from '../../repeats/set-up-identity.js';
import type { NetworkRelations } from '../network-report.js';
import type { NetworkBase } from './session-bases.js';

/** Coordinates that follow only from one station of a free network are no place of a base: they move with it. */
const DATUMS: readonly string[] = ['control'];

/** What a rejected station may be rejected for, and its adjusted place be sound all the same. */
const NO_FAULT: ReadonlySet<ProblemCode> = new Set(['network-excluded', 'network-unchecked']);

/**
 * The bases that the network determined: whose mark no control holds. A session takes such a place as `known`.
 *
 * Given: the adjustment; its stations; the bases of the sessions; covariances. Returned: one each station, in the order of their names:
 * of a session its bases; without a session the stations whose vectors name a set-up.
 *
 * Note: a session states sigmas of mark and set-up together, and takes the set-up's out again (`setUpIdentities`): they are added here.
 */
export function determinedBases(
  { network, held, final, datum }: AdjustedNetwork,
  points: readonly NetworkPoint[],
  sessionBases: readonly NetworkBase[],
  relations: NetworkRelations,
): readonly DeterminedBase[] {
  if (!DATUMS.includes(datum)) return [];
  const holding = new Set(held.map((index) => network.control[index]?.id));
  const named = new Map(sessionBases.map((base) => [base.stationId, base] as const));
  const stations =
    sessionBases.length > 0
      ? [...named.keys()]
      : network.vectors.flatMap(({ fromId, shared }) => (shared.length > 0 ? [fromId] : []));
  return [...new Set(stations)].sort().flatMap((id): readonly DeterminedBase[] => {
    const station = final.solved.list.indexOf.get(id);
    const point = points.find((other) => other.id === id);
    if (holding.has(id) || station === undefined || point?.geodetic == null || point.covariance === null) return [];
    const base = named.get(id)?.base ?? null;
    const at = base?.origin.at ?? 'mark';
    const { settings = null } = base ?? {};
    const added = (sigma: number | null | undefined, usualM: number): number =>
      // A base that is no mark stands over its own point: nothing unstated is added.
      at === 'mark' ? (sigma ?? usualM) : (sigma ?? 0);
    const { eeM2, nnM2, uuM2 } = point.covariance;
    return [
      {
        id,
        at,
        geodetic: point.geodetic,
        position: present(point.position, 'the place of a station'),
        covariance: Array.from(relations.block(station, station)),
        sigmaHorizontalM: Math.hypot(
          Math.sqrt(Math.max(eeM2, nnM2)),
          added(settings?.centringSigmaM, NEW_SETUP.horizontalM),
        ),
        sigmaVerticalM: Math.hypot(Math.sqrt(uuM2), added(settings?.antennaHeightSigmaM, NEW_SETUP.verticalM)),
        isChecked: point.isChecked,
        // Where its stated coordinate alone was left out, what the rest determines is what is wanted.
        isRejected: point.verdict === 'no' && point.reasons.some((code) => !NO_FAULT.has(code)),
      },
    ];
  });
}
