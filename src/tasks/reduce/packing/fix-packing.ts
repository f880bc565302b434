import type { Fix } from '../../../records/points/fix.js';
import { createPackedRecords } from './packed-records.js';
import type { PackedCell, PackedRecords, Packing } from './packed-records.js';

/** Members of a fix that are no cell by themselves. */
type Parts = 'geodetic' | 'geocentric' | 'place' | 'passThrough';

/** The others: the type asks for every one, so that none that is added to a fix gets lost. */
const MEMBERS: Readonly<Record<Exclude<keyof Fix, Parts>, true>> = {
  pointId: true,
  namedAfterLog: true,
  stationId: true,
  separationM: true,
  code: true,
  epochMs: true,
  referencePoint: true,
  solution: true,
  correctionAgeS: true,
  satellitesUsed: true,
  pdop: true,
  hdop: true,
  vdop: true,
  sigmaEastM: true,
  sigmaNorthM: true,
  sigmaUpM: true,
  correlationEn: true,
  baseId: true,
  poleLengthM: true,
  tiltDeg: true,
  tiltAzimuthDeg: true,
  epochCount: true,
  note: true,
};
const KEYS = Object.keys(MEMBERS) as readonly (keyof typeof MEMBERS)[];
const NO_CELLS: readonly string[] = Object.freeze([]);

/** A fix in cells: its members, its positions and its place, then how many cells pass through, and those. */
const FIX_PACKING: Packing<Fix> = {
  cells: (fix) => [
    ...KEYS.map((key) => fix[key]),
    fix.geodetic.latitudeDeg,
    fix.geodetic.longitudeDeg,
    fix.geodetic.ellipsoidalHeightM,
    fix.geocentric?.xM ?? null,
    fix.geocentric?.yM ?? null,
    fix.geocentric?.zM ?? null,
    fix.place.sourceIndex,
    fix.place.line,
    fix.passThrough.length,
    ...fix.passThrough,
  ],
  record(cell) {
    const [latitudeDeg, longitudeDeg, ellipsoidalHeightM, xM, yM, zM, sourceIndex, line, passing] = Array.from(
      { length: 9 },
      (_, place) => cell(KEYS.length + place),
    ) as number[];
    const members: Record<string, PackedCell> = {};
    for (const [place, key] of KEYS.entries()) {
      const value = cell(place);
      if (value !== undefined) members[key] = value;
    }
    members['geodetic'] = { latitudeDeg, longitudeDeg, ellipsoidalHeightM };
    members['geocentric'] = xM === null ? null : { xM, yM, zM };
    members['place'] = { sourceIndex, line };
    members['passThrough'] =
      passing === 0 ? NO_CELLS : Array.from({ length: passing as number }, (_, place) => cell(KEYS.length + 9 + place));
    return members as unknown as Fix;
  },
};

/** An empty list of the fixes of a long occupation. */
export function createPackedFixes(): PackedRecords<Fix> {
  return createPackedRecords(FIX_PACKING);
}
