import type { Fix } from '../../../src/records/points/fix.js';

/** A fixed epoch of an invented point, with what a test changes. */
export function makeFix(change: Partial<Fix>): Fix {
  return {
    pointId: 'P1',
    code: '',
    epochMs: null,
    geodetic: { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 },
    geocentric: null,
    referencePoint: null,
    solution: 'fixed',
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
    epochCount: 1,
    note: '',
    passThrough: [],
    place: { sourceIndex: 0, line: 0 },
    ...change,
  };
}
