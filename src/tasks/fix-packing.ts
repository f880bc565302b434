import type { Fix } from '../records/fix.js';
import type { GeocentricPoint } from '../records/point.js';
import { createPackedRecords } from './packed-records.js';
import type { PackedCell, PackedRecords, Packing } from './packed-records.js';

const NO_CELLS: readonly string[] = Object.freeze([]);
/** Cells of a fix before those that pass through. */
const OWN = 30;

/** A fix in cells: those of the place and the geocentric position by themselves, those that pass through at the end. */
const FIX_PACKING: Packing<Fix> = {
  cells: (fix) => [
    fix.pointId, fix.namedAfterLog, fix.code, fix.epochMs, fix.geodetic.latitudeDeg, fix.geodetic.longitudeDeg, fix.geodetic.ellipsoidalHeightM,
    fix.geocentric?.xM ?? null, fix.geocentric?.yM ?? null, fix.geocentric?.zM ?? null, fix.referencePoint, fix.solution, fix.correctionAgeS,
    fix.satellitesUsed, fix.pdop, fix.hdop, fix.vdop, fix.sigmaEastM, fix.sigmaNorthM, fix.sigmaUpM, fix.correlationEn, fix.baseId, fix.poleLengthM,
    fix.tiltDeg, fix.tiltAzimuthDeg, fix.epochCount, fix.note, fix.place.sourceIndex, fix.place.line, fix.passThrough.length, ...fix.passThrough,
  ],
  record(cells) {
    const passing = cells[29] as number;
    const fix: Fix = {
      pointId: cells[0] as string, code: cells[2] as string, epochMs: number(cells[3]),
      geodetic: { latitudeDeg: cells[4] as number, longitudeDeg: cells[5] as number, ellipsoidalHeightM: cells[6] as number },
      geocentric: geocentric(number(cells[7]), number(cells[8]), number(cells[9])),
      referencePoint: cells[10] as Fix['referencePoint'], solution: cells[11] as Fix['solution'], correctionAgeS: number(cells[12]),
      satellitesUsed: number(cells[13]), pdop: number(cells[14]), hdop: number(cells[15]), vdop: number(cells[16]), sigmaEastM: number(cells[17]),
      sigmaNorthM: number(cells[18]), sigmaUpM: number(cells[19]), correlationEn: number(cells[20]), baseId: cells[21] as string | null,
      poleLengthM: number(cells[22]), tiltDeg: number(cells[23]), tiltAzimuthDeg: number(cells[24]), epochCount: cells[25] as number, note: cells[26] as string,
      passThrough: passing === 0 ? NO_CELLS : (cells.slice(OWN, OWN + passing) as string[]),
      place: { sourceIndex: cells[27] as number, line: cells[28] as number },
    };
    return cells[1] === true ? { ...fix, namedAfterLog: true } : fix;
  },
};

/** An empty list of the fixes of a long occupation. */
export function createPackedFixes(): PackedRecords<Fix> {
  return createPackedRecords(FIX_PACKING);
}

function number(cell: PackedCell): number | null {
  return cell as number | null;
}

function geocentric(xM: number | null, yM: number | null, zM: number | null): GeocentricPoint | null {
  return xM === null || yM === null || zM === null ? null : { xM, yM, zM };
}
