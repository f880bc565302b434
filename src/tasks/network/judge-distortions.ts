import type { AdjustedNetwork } from '../../core/network/adjust-network.js';
import { upOf } from '../../core/network/equations/control-rows.js';
import type { DistortionCandidate } from '../../core/network/distortions/distortion.js';
import type { EquationOrigin } from '../../core/network/equations/equation-origins.js';
import { crossCofactor, pathOf } from '../../core/network/blocks/factor-paths.js';
import { NEARLY_ALIKE } from '../../core/network/evidence/network-levels.js';
import type { Network } from '../../core/network/network.js';
import { entryAt, present } from '../../records/present.js';
import type { NetworkDistortion } from '../../records/reports/network-report.js';

/** Stations whose heights a distortion is compared with: those that its vectors start from. */
const MOST_STARTS = 50;

/** Every distortion that was looked for, with what became of it; of those kept, what the final adjustment says. */
export function networkDistortions(adjusted: AdjustedNetwork): readonly NetworkDistortion[] {
  const { network, distortions, final, scale } = adjusted;
  if (distortions === null) return [];
  const { built, solution } = final.solved;
  return distortions.findings.map(({ candidate, answer, evidence, hangsOn }): NetworkDistortion => {
    const { name, kind, group } = candidate;
    const found = {
      name,
      kind,
      group,
      answer,
      test: evidence?.test ?? null,
      limit: distortions.limit,
      hangsOn: hangsOn === null ? null : nameOf(network, hangsOn),
    };
    if (answer !== 'kept')
      return { ...found, valuePpm: evidence?.valuePpm ?? null, sigmaPpm: evidence?.sigmaPpm ?? null, alike: null };
    const block = built.sharedBlock(network.shared.findIndex((own) => own.name === name));
    const q = new Float64Array(1);
    final.cofactors.ofBlocks(block, block, q);
    return {
      ...found,
      valuePpm: solution.unknowns[solution.equations.starts[block]!]!,
      sigmaPpm: Math.sqrt(scale * q[0]!),
      alike: likestHeight(adjusted, candidate, block, q[0]!),
    };
  });
}

function nameOf({ control, vectors, levelled, distances }: Network, { kind, index }: EquationOrigin): string {
  if (kind === 'control') return `control ${entryAt(control, index).id}`;
  const ends: readonly { readonly fromId: string; readonly toId: string }[] =
    kind === 'vector' ? vectors : kind === 'levelled' ? levelled : distances;
  const { fromId, toId } = entryAt(ends, index);
  return `${kind} ${fromId} to ${toId}`;
}

/** The station whose height can least be told from a distortion of the vectors that start there; null: all can. */
function likestHeight(
  { network, final: { solved } }: AdjustedNetwork,
  { members }: DistortionCandidate,
  block: number,
  variance: number,
): NetworkDistortion['alike'] {
  const { list, solution } = solved;
  const own = pathOf(solution.factor, block);
  const starts = [...new Set(members.map((index) => entryAt(network.vectors, index).fromId))].slice(0, MOST_STARTS);
  let most: NetworkDistortion['alike'] = null;
  for (const stationId of starts) {
    const station = present(list.indexOf.get(stationId), 'the station of a vector');
    const { place } = entryAt(list.stations, station);
    if (place === null) continue;
    const up = upOf(place.frame);
    const path = pathOf(solution.factor, station);
    const across = crossCofactor(solution.factor, own, path);
    const q = crossCofactor(solution.factor, path, path);
    let [shared, height] = [0, 0];
    for (let r = 0; r < 3; r += 1) {
      shared += across[r]! * entryAt(up, r);
      for (let s = 0; s < 3; s += 1) height += entryAt(up, r) * q[3 * r + s]! * entryAt(up, s);
    }
    const correlation = shared / Math.sqrt(variance * height);
    if (Math.abs(correlation) >= Math.abs(most?.correlation ?? NEARLY_ALIKE)) most = { stationId, correlation };
  }
  return most;
}
