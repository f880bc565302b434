import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { ionosphereCautions, ionosphereWindow } from '../../core/planning/time/ionosphere-window.js';
import type { Caution } from '../../core/planning/caution.js';
import { PLANNING_CAUTIONS } from '../../core/planning/caution.js';
import type { PlanDay } from './plan-days.js';
import type { PlacedBases } from './place-bases.js';
import type { PlanSiting } from './targets/plan-target.js';
import type { PlanStream } from './plan-stream.js';

/** When the work takes place, as far as it is said. */
export interface PlanTime {
  /** Milliseconds since 1970-01-01T00:00:00Z; null: not said. */
  readonly startMs: number | null;
  /** 1 to 12; from the start, or stated; null: not said. */
  readonly month: number | null;
}

const PRACTICE = 'common practice, no published source';

/** What is to be minded about the places chosen: no network, or a place that only geometry speaks for. */
export function siteCautions(siting: PlanSiting, { bases }: PlacedBases): readonly Caution[] {
  if (siting.kind === 'given') return [];
  if (siting.kind === 'free')
    return [
      {
        id: 'place-is-geometry',
        text: 'The free place knows no terrain, road, owner, sky or network: visit it, or give places that would do with --candidates.',
        source: PRACTICE,
      },
    ];
  const silent = bases
    .filter(({ id }) => siting.candidates.find((candidate) => candidate.id === id)?.cellular !== true)
    .map(({ id }) => id);
  if (silent.length === 0) return [];
  return [
    {
      id: 'no-network-known',
      text: `No mobile network is known at ${silent.join(', ')}: a base without one sends nothing; --need-cellular leaves such places out.`,
      source: PRACTICE,
    },
  ];
}

/** The cautions of a plan: those of every plan, of its bases, of the ionosphere at the place and hours, of the stream and the days. */
export function planCautions(
  placed: PlacedBases,
  site: readonly Caution[],
  time: PlanTime,
  hours: number,
  stream: PlanStream | null,
  days: readonly PlanDay[],
): readonly Caution[] {
  const [base] = placed.bases;
  const cautions: Caution[] = [...PLANNING_CAUTIONS, ...site];
  if (base !== undefined) {
    if (time.startMs === null) {
      for (const { id, fromH, toH, text, source } of ionosphereWindow(base.latitudeDeg, time.month))
        cautions.push({
          id,
          text: `From ${String(fromH)} to ${String(toH)} h local solar time${time.month === null && id.includes('winter') ? ' in the winter half of the year' : ''}: ${text}`,
          source,
        });
    } else {
      // Any hour of the clock: it is wrapped where it meets the sun.
      const startHour = (time.startMs / 3_600_000) % 24;
      for (const { id, text, source, overlapH } of ionosphereCautions(
        base.latitudeDeg,
        base.longitudeDeg,
        time.month,
        startHour,
        hours,
      ))
        cautions.push({ id, text: `${formatFixed(overlapH, 1)} h of the planned hours: ${text}`, source });
    }
  }
  // No stream is asked for.
  pushAll(cautions, stream?.cost.cautions ?? []);
  for (const { baseId, timetable } of days)
    for (const caution of timetable.cautions)
      cautions.push({ ...caution, text: days.length > 1 ? `Base ${baseId}: ${caution.text}` : caution.text });
  return cautions;
}
