import type { StaticRow, TimeDependentRow } from './operation-from-row.js';
import type { ShiftArea } from '../shifts/shift-definition.js';

const SOUTH_AFRICA_ONSHORE: ShiftArea = { southDeg: -34.88, westDeg: 16.45, northDeg: -22.13, eastDeg: 32.95, description: 'South Africa, mainland onshore' };
const SOUTH_AFRICA_ALL: ShiftArea = { southDeg: -50.32, westDeg: 13.33, northDeg: -22.13, eastDeg: 42.85, description: 'Eswatini; Lesotho; South Africa onshore and offshore' };
const GREAT_BRITAIN: ShiftArea = { southDeg: 49.79, westDeg: -8.82, northDeg: 60.94, eastDeg: 1.92, description: 'Great Britain onshore and nearshore; Isle of Man' };
const AUSTRALIA_GDA: ShiftArea = { southDeg: -60.55, westDeg: 93.41, northDeg: -8.47, eastDeg: 173.34, description: 'Australia with its islands, onshore and offshore' };
const AUSTRALIA_EEZ: ShiftArea = { southDeg: -47.2, westDeg: 109.23, northDeg: -8.88, eastDeg: 163.2, description: 'Australia onshore and to the limit of its economic zone' };

/**
 * Operations between national datums that do not change with time. `heights: 'kept'` stands where
 * one side is a datum of triangulation without ellipsoidal heights. The registry enters 8048 in its
 * 2D domain; its publisher applies it to geocentric coordinates, so heights are transformed: they
 * change by about 0.09 m. Reference: EPSG-DB, operation of each code; GDA2020-TM for 8048.
 */
export const STATIC_ROWS: readonly StaticRow[] = [
  { code: 1128, name: 'Cape to WGS 84 (1)', from: 'Cape', to: 'WGS 84', methodCode: 9603, method: 'geocentric-translation', heights: 'kept', accuracyM: 9, area: SOUTH_AFRICA_ONSHORE, txM: -136, tyM: -108, tzM: -292, caution: 'derived from 5 stations' },
  { code: 1129, name: 'Cape to WGS 84 (2)', from: 'Cape', to: 'WGS 84', methodCode: 9603, method: 'geocentric-translation', heights: 'kept', accuracyM: 15, area: SOUTH_AFRICA_ONSHORE, txM: -134.73, tyM: -110.92, tzM: -292.66, caution: 'the parameters of 1504, taking WGS 84 for Hartebeesthoek94' },
  { code: 1314, name: 'OSGB36 to WGS 84 (6)', from: 'OSGB36', to: 'WGS 84', methodCode: 9606, method: 'position-vector', heights: 'kept', accuracyM: 2, area: GREAT_BRITAIN, txM: 446.448, tyM: -125.157, tzM: 542.06, rxArcsec: 0.15, ryArcsec: 0.247, rzArcsec: 0.842, dsPpm: -20.489, caution: 'metres; the national grid transformation is needed for survey' },
  { code: 1504, name: 'Cape to Hartebeesthoek94 (1)', from: 'Cape', to: 'Hartebeesthoek94', methodCode: 9603, method: 'geocentric-translation', heights: 'kept', accuracyM: 15, area: SOUTH_AFRICA_ONSHORE, txM: -134.73, tyM: -110.92, tzM: -292.66, caution: 'residuals to 15 m: not for boundaries' },
  { code: 1505, name: 'Hartebeesthoek94 to WGS 84 (1)', from: 'Hartebeesthoek94', to: 'WGS 84', methodCode: 9603, method: 'geocentric-translation', heights: 'transformed', accuracyM: 1, area: SOUTH_AFRICA_ALL, txM: 0, tyM: 0, tzM: 0, caution: 'takes two frames for one: the plate has moved since 1994' },
  { code: 8048, name: 'GDA94 to GDA2020 (1)', from: 'GDA94', to: 'GDA2020', methodCode: 9607, method: 'coordinate-frame', heights: 'transformed', accuracyM: 0.01, area: AUSTRALIA_GDA, txM: 0.06155, tyM: -0.01087, tzM: -0.04019, rxArcsec: -0.0394924, ryArcsec: -0.0327221, rzArcsec: -0.0328979, dsPpm: -0.009994, caution: null },
];

/**
 * Time-dependent operations from the satellite frames to the Australian datums. Method: EPSG 1056,
 * time-dependent coordinate frame rotation. Reference: EPSG-DB, operation of each code; DAWSON-2010
 * for 6276 to 6278; GDA2020-TM for 8049 and 9682.
 */
export const AUSTRALIAN_ROWS: readonly (TimeDependentRow & { readonly area: ShiftArea })[] = [
  { code: 6276, from: 'ITRF2008', to: 'GDA94', version: 1, epochYear: 1994, accuracyM: 0.03, txMm: -84.68, tyMm: -19.42, tzMm: 32.01, rxMas: -0.4254, ryMas: 2.2578, rzMas: 2.4015, dsPpb: 9.71, txMmPerYear: 1.42, tyMmPerYear: 1.34, tzMmPerYear: 0.9, rxMasPerYear: 1.5461, ryMasPerYear: 1.182, rzMasPerYear: 1.1551, dsPpbPerYear: 0.109, area: AUSTRALIA_EEZ },
  { code: 6277, from: 'ITRF2005', to: 'GDA94', version: 1, epochYear: 1994, accuracyM: 0.03, txMm: -79.73, tyMm: -6.86, tzMm: 38.03, rxMas: -0.0351, ryMas: 2.1211, rzMas: 2.1411, dsPpb: 6.636, txMmPerYear: 2.25, tyMmPerYear: -0.62, tzMmPerYear: -0.56, rxMasPerYear: 1.4707, ryMasPerYear: 1.1443, rzMasPerYear: 1.1701, dsPpbPerYear: 0.294, area: AUSTRALIA_EEZ },
  { code: 6278, from: 'ITRF2000', to: 'GDA94', version: 2, epochYear: 1994, accuracyM: 0.06, txMm: -45.91, tyMm: -29.85, tzMm: -20.37, rxMas: -1.6705, ryMas: 0.4594, rzMas: 1.9356, dsPpb: 7.07, txMmPerYear: -4.66, tyMmPerYear: 3.55, tzMmPerYear: 11.24, rxMasPerYear: 1.7454, ryMasPerYear: 1.4868, rzMasPerYear: 1.224, dsPpbPerYear: 0.249, area: AUSTRALIA_EEZ },
  { code: 9682, from: 'ITRF2014', to: 'GDA94', version: 1, epochYear: 2020, accuracyM: 0.035, txMm: -61.55, tyMm: 10.87, tzMm: 40.19, rxMas: 39.4924, ryMas: 32.7221, rzMas: 32.8979, dsPpb: 9.994, rxMasPerYear: 1.50379, ryMasPerYear: 1.18346, rzMasPerYear: 1.20716, area: AUSTRALIA_GDA },
  { code: 8049, from: 'ITRF2014', to: 'GDA2020', version: 1, epochYear: 2020, accuracyM: 0.03, rxMasPerYear: 1.50379, ryMasPerYear: 1.18346, rzMasPerYear: 1.20716, area: AUSTRALIA_GDA },
];
