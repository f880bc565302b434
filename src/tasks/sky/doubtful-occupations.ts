import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import { median } from '../../core/numeric/median.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { OccupationSky } from '../../records/reports/parts/occupation-sky.js';
import type { ReducedOccupation, ReductionWorking } from '../reduce/reduction-working.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** An occupation that is for review or rejected, and where its ends were. */
export interface DoubtfulOccupation extends Pick<
  OccupationSky,
  'pointId' | 'occupation' | 'baseId' | 'atMs' | 'verdict' | 'reasons' | 'satellitesUsed'
> {
  readonly place: GeodeticPoint;
  /** Null: no base is known. */
  readonly base: GeodeticPoint | null;
}

/** Gathers the occupations whose own statistics or limits ask for a look; a day has few. */
export interface DoubtfulOccupations {
  readonly add: (reduced: ReducedOccupation, setup: ReductionSetup) => void;
  /** Those with a time and a place, in order. */
  readonly listed: readonly DoubtfulOccupation[];
}

export function createDoubtfulOccupations(): DoubtfulOccupations {
  const listed: DoubtfulOccupation[] = [];
  return {
    listed,
    add({ point, working }, setup) {
      if (point.verdict === 'accepted') return;
      const { atMs, satellitesUsed } = epochsOf(working);
      const place = placeOf(point, working, setup);
      if (atMs === null || place === null) return;
      const { pointId, occupation, baseId, verdict, reasons } = point;
      const base = working.base?.origin.geodetic ?? null;
      listed.push({ pointId, occupation, baseId, atMs, verdict, reasons, satellitesUsed, place, base });
    },
  };
}

/** The middle of the time, and the satellites used; refused epochs count too, since they are what is looked into. */
function epochsOf({ epochs }: ReductionWorking): {
  readonly atMs: number | null;
  readonly satellitesUsed: number | null;
} {
  let [firstMs, lastMs] = [Infinity, -Infinity];
  const used: number[] = [];
  for (const { fix } of epochs) {
    if (fix.epochMs !== null) {
      firstMs = Math.min(firstMs, fix.epochMs);
      lastMs = Math.max(lastMs, fix.epochMs);
    }
    if (fix.satellitesUsed !== null) used.push(fix.satellitesUsed);
  }
  return {
    atMs: lastMs >= firstMs ? Math.round((firstMs + lastMs) / 2) : null,
    satellitesUsed: used.length === 0 ? null : median(used),
  };
}

/** Where the point is; of one that is rejected its first tip, which is near enough to look at the sky from. */
function placeOf(
  { position }: ReducedPoint,
  working: ReductionWorking,
  { fixesSystem }: ReductionSetup,
): GeodeticPoint | null {
  const known = position ?? working.position;
  if (known !== null) return known.geodetic;
  for (const { tip } of working.epochs) return geocentricToGeodetic(tip, fixesSystem.ellipsoid);
  return null;
}
