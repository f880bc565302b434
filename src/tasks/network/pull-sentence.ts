import { stationPull } from '../../core/network/evidence/control-pull.js';
import { compareNaturally } from '../../core/numeric/text/compare-naturally.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { entryAt } from '../../records/present.js';
import type { NetworkResults } from './network-results.js';

/** Names in a sentence, in the order people count, before the rest is counted. */
const MOST_NAMED = 6;

/** Names in a sentence: those first that people count first, and how many more. */
export function named(ids: readonly string[]): string {
  const shown = ids.toSorted(compareNaturally).slice(0, MOST_NAMED).join(', ');
  return ids.length > MOST_NAMED ? `${shown} and ${String(ids.length - MOST_NAMED)} more` : shown;
}

/** What control that fails and holds all the same does to the coordinates, to follow "use none of them"; null: there is none, or it moves none beyond its uncertainty. */
export function pullSentence({ adjusted, points }: Pick<NetworkResults, 'adjusted' | 'points'>): string | null {
  const { pull, network, final } = adjusted;
  if (pull === null) return null;
  const names = named(pull.control.map((index) => entryAt(network.control, index).id));
  const holds = `${names} ${pull.control.length === 1 ? 'holds' : 'hold'} them, and`;
  const { without } = pull;
  if (without === null) return `${holds} no other control is left to say how far they are off`;
  let farthest = { id: '', planM: 0, upM: 0 };
  points.forEach(({ id, reasons }, station) => {
    if (!reasons.includes('network-control-pulls')) return;
    const { planM, upM } = stationPull(final.solved, without, station);
    // Of a station of which only the height is known nothing moves in plan.
    const own = { id, planM: planM ?? 0, upM: Math.abs(upM) };
    if (Math.hypot(own.planM, own.upM) > Math.hypot(farthest.planM, farthest.upM)) farthest = own;
  });
  if (farthest.id === '') return null;
  const { id, planM, upM } = farthest;
  return `${holds} the other control has ${id} ${formatFixed(planM, 3)} m away in plan and ${formatFixed(upM, 3)} m in height`;
}
