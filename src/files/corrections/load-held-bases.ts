import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { WGS84 } from '../../core/ellipsoid/ellipsoid.js';
import { DAY_MS } from '../../core/corrections/stream-times.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { prepareBases } from '../../tasks/bases/prepare-bases.js';
import type { PreparedBase } from '../../tasks/bases/prepare-bases.js';
import type { HeldBase } from '../../tasks/corrections/hold-broadcast.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import { loadReductionSetup } from '../reduction/setup/load-reduction-setup.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';

/** What a session says of its bases, and the systems that what was sent is shown in. */
export interface HeldBases {
  readonly bases: readonly HeldBase[];
  /** Of the frame that the coordinates were sent in. */
  readonly ellipsoid: Ellipsoid;
  /** Null: the session names none, or lies on another datum than what was sent. */
  readonly grid: GridSystem | null;
  /** Null: the session names no system. */
  readonly setup: (ReductionSetup & { readonly grid: GridSystem }) | null;
}

/** Days of a job by their ids, milliseconds since 1970 at midnight of their dates. */
export type DayDates = ReadonlyMap<string, number>;

/**
 * Loads the bases of a session as `reduce-points` does. Warnings of what it leaves unstated are left to that command. `dates`: of the days of a
 * job; a set-up of such a day that states no times holds from midnight to midnight there, by the sun.
 */
export async function loadHeldBases(
  resolved: SessionInPlace,
  dates: DayDates = new Map(),
): Promise<Outcome<HeldBases>> {
  const { system, bases } = resolved.session;
  if (system === null || system.grid === '') {
    const prepared = prepareBases(bases, { ellipsoid: WGS84, grid: null, geoid: null });
    if (!prepared.ok) return prepared;
    return success({
      bases: prepared.value.map((base) => heldBase(base, dates)),
      ellipsoid: WGS84,
      grid: null,
      setup: null,
    });
  }
  const loaded = await loadReductionSetup(resolved, []);
  if (!loaded.ok) return loaded;
  const { fixesSystem, grid, shift } = loaded.value;
  return success({
    bases: loaded.value.bases.map((base) => heldBase(base, dates)),
    ellipsoid: fixesSystem.ellipsoid,
    grid: shift === null ? grid : null,
    setup: loaded.value,
  });
}

function heldBase({ settings, broadcastArp, frame, antenna, origin }: PreparedBase, dates: DayDates): HeldBase {
  const { id, fromMs, toMs, day } = settings;
  const own = { id, broadcastArp, frame, antennaHeightM: antenna?.verticalM ?? null };
  const dateMs = day === undefined || fromMs !== null || toMs !== null ? undefined : dates.get(day);
  if (dateMs === undefined) return { ...own, fromMs, toMs, dayHeld: null };
  const midnightMs = dateMs - (origin.geodetic.longitudeDeg / 360) * DAY_MS;
  return { ...own, fromMs: midnightMs, toMs: midnightMs + DAY_MS, dayHeld: day ?? null }; // A date has its day.
}
