import type { Fix } from '../../../records/points/fix.js';
import { createFiledRecords } from './filed-records.js';
import { cellAt } from './packed-records.js';
import type { PackedCell, PackedRecords, Packing } from './packed-records.js';

/** Members of a fix that are no cell by themselves. */
type Parts = 'geodetic' | 'geocentric' | 'place' | 'passThrough';

/** The others: the type asks for every one, so that none that is added to a fix gets lost; only their names count. */
const MEMBERS: Readonly<Record<Exclude<keyof Fix, Parts>, null>> = {
  pointId: null,
  namedAfterLog: null,
  stationId: null,
  separationM: null,
  code: null,
  epochMs: null,
  referencePoint: null,
  solution: null,
  correctionAgeS: null,
  satellitesUsed: null,
  pdop: null,
  hdop: null,
  vdop: null,
  sigmaEastM: null,
  sigmaNorthM: null,
  sigmaUpM: null,
  correlationEn: null,
  baseId: null,
  poleLengthM: null,
  tiltDeg: null,
  tiltAzimuthDeg: null,
  epochCount: null,
  note: null,
};
const KEYS = Object.keys(MEMBERS) as readonly (keyof typeof MEMBERS)[];
/** The cell of each member. */
const PLACES = Object.fromEntries(KEYS.map((key, place) => [key, place])) as Record<keyof typeof MEMBERS, number>;
const NO_CELLS: readonly string[] = Object.freeze([]);
/** Where the two positions and the place begin among the cells, and how many there are before those that pass through. */
const [GEODETIC, GEOCENTRIC, PLACE, OWN_CELLS] = [
  KEYS.length,
  KEYS.length + 3,
  KEYS.length + 6,
  KEYS.length + 9,
] as const;

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
  // Member by member: an object that is filled by names in a loop takes ten times as long to make.
  record(pack, row) {
    const cell = (place: number): PackedCell => cellAt(pack, place, row);
    const xM = cell(GEOCENTRIC) as number | null;
    const passing = cell(OWN_CELLS - 1) as number;
    const fix: Fix = {
      pointId: cell(PLACES.pointId) as string,
      code: cell(PLACES.code) as string,
      epochMs: cell(PLACES.epochMs) as number | null,
      geodetic: {
        latitudeDeg: cell(GEODETIC) as number,
        longitudeDeg: cell(GEODETIC + 1) as number,
        ellipsoidalHeightM: cell(GEODETIC + 2) as number,
      },
      geocentric: xM === null ? null : { xM, yM: cell(GEOCENTRIC + 1) as number, zM: cell(GEOCENTRIC + 2) as number },
      referencePoint: cell(PLACES.referencePoint) as Fix['referencePoint'],
      solution: cell(PLACES.solution) as Fix['solution'],
      correctionAgeS: cell(PLACES.correctionAgeS) as number | null,
      satellitesUsed: cell(PLACES.satellitesUsed) as number | null,
      pdop: cell(PLACES.pdop) as number | null,
      hdop: cell(PLACES.hdop) as number | null,
      vdop: cell(PLACES.vdop) as number | null,
      sigmaEastM: cell(PLACES.sigmaEastM) as number | null,
      sigmaNorthM: cell(PLACES.sigmaNorthM) as number | null,
      sigmaUpM: cell(PLACES.sigmaUpM) as number | null,
      correlationEn: cell(PLACES.correlationEn) as number | null,
      baseId: cell(PLACES.baseId) as string | null,
      poleLengthM: cell(PLACES.poleLengthM) as number | null,
      tiltDeg: cell(PLACES.tiltDeg) as number | null,
      tiltAzimuthDeg: cell(PLACES.tiltAzimuthDeg) as number | null,
      epochCount: cell(PLACES.epochCount) as number,
      note: cell(PLACES.note) as string,
      passThrough:
        passing === 0 ? NO_CELLS : Array.from({ length: passing }, (_, place) => cell(OWN_CELLS + place) as string),
      place: { sourceIndex: cell(PLACE) as number, line: cell(PLACE + 1) as number },
    };
    const stationId = cell(PLACES.stationId) as string | undefined;
    const separationM = cell(PLACES.separationM) as number | undefined;
    const isNamed = cell(PLACES.namedAfterLog) as true | undefined;
    return stationId === undefined && separationM === undefined && isNamed === undefined
      ? fix
      : ofLog(fix, isNamed, stationId, separationM);
  },
};

/** What only fixes of a log have; a member that is not there is left out. */
function ofLog(
  fix: Fix,
  isNamed: true | undefined,
  stationId: string | undefined,
  separationM: number | undefined,
): Fix {
  const all = fix as { -readonly [Key in keyof Fix]: Fix[Key] };
  if (isNamed !== undefined) all.namedAfterLog = isNamed;
  if (stationId !== undefined) all.stationId = stationId;
  if (separationM !== undefined) all.separationM = separationM;
  return all;
}

/** An empty list of the fixes of a long occupation. */
export function createPackedFixes(): PackedRecords<Fix> {
  return createFiledRecords(FIX_PACKING, 0);
}
