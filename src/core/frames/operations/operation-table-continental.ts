import type { TimeDependentRow } from './operation-from-row.js';
import type { ShiftArea } from '../shifts/shift-definition.js';

const EUROPE: ShiftArea = {
  southDeg: 32.88,
  westDeg: -16.1,
  northDeg: 84.73,
  eastDeg: 40.18,
  description: 'Europe onshore and offshore',
};
const CANADA: ShiftArea = {
  southDeg: 38.21,
  westDeg: -141.01,
  northDeg: 86.46,
  eastDeg: -40.73,
  description: 'Canada onshore and offshore',
};
const UNITED_STATES: ShiftArea = {
  southDeg: 14.92,
  westDeg: 167.65,
  northDeg: 74.71,
  eastDeg: -63.88,
  description: 'conterminous United States, Alaska, Puerto Rico and US Virgin Islands, onshore and offshore',
};
const SAUDI_ARABIA: ShiftArea = {
  southDeg: 16.29,
  westDeg: 34.44,
  northDeg: 32.16,
  eastDeg: 55.67,
  description: 'Saudi Arabia onshore and offshore',
};

/** A row with the method it is registered under and the area it was published for. */
interface ContinentalRow extends TimeDependentRow {
  readonly method: 1053 | 1056;
  readonly area: ShiftArea;
}

/**
 * Operations from ITRF2014 to frames that turn with a plate, in the units they are published in; a term not given is 0. The
 * registry states an accuracy of 0 m where the operation is what defines the frame. Reference: EPSG-DB, operation of each code.
 */
export const CONTINENTAL_ROWS: readonly ContinentalRow[] = [
  {
    code: 8366,
    from: 'ITRF2014',
    to: 'ETRF2014',
    version: 1,
    epochYear: 1989,
    accuracyM: 0,
    rxMasPerYear: 0.085,
    ryMasPerYear: 0.531,
    rzMasPerYear: -0.77,
    method: 1053,
    area: EUROPE,
  },
  {
    code: 8405,
    from: 'ITRF2014',
    to: 'ETRF2000',
    version: 1,
    epochYear: 2010,
    accuracyM: 0,
    txMm: 54.7,
    tyMm: 52.2,
    tzMm: -74.1,
    rxMas: 1.701,
    ryMas: 10.29,
    rzMas: -16.632,
    dsPpb: 2.12,
    txMmPerYear: 0.1,
    tyMmPerYear: 0.1,
    tzMmPerYear: -1.9,
    rxMasPerYear: 0.081,
    ryMasPerYear: 0.49,
    rzMasPerYear: -0.792,
    dsPpbPerYear: 0.11,
    method: 1053,
    area: EUROPE,
  },
  {
    code: 8265,
    from: 'ITRF2014',
    to: 'NAD83(CSRS)v7',
    version: 1,
    epochYear: 2010,
    accuracyM: 0,
    txMm: 1005.3,
    tyMm: -1909.2,
    tzMm: -541.6,
    rxMas: -26.7814,
    ryMas: 0.4203,
    rzMas: -10.9321,
    dsPpb: 0.37,
    txMmPerYear: 0.8,
    tyMmPerYear: -0.6,
    tzMmPerYear: -1.4,
    rxMasPerYear: -0.0667,
    ryMasPerYear: 0.7574,
    rzMasPerYear: 0.0513,
    dsPpbPerYear: -0.07,
    method: 1053,
    area: CANADA,
  },
  {
    code: 8970,
    from: 'ITRF2014',
    to: 'NAD83(2011)',
    version: 1,
    epochYear: 2010,
    accuracyM: 0,
    txMm: 1005.3,
    tyMm: -1909.2,
    tzMm: -541.6,
    rxMas: 26.7814,
    ryMas: -0.4203,
    rzMas: 10.9321,
    dsPpb: 0.37,
    txMmPerYear: 0.8,
    tyMmPerYear: -0.6,
    tzMmPerYear: -1.4,
    rxMasPerYear: 0.0667,
    ryMasPerYear: -0.7574,
    rzMasPerYear: -0.0513,
    dsPpbPerYear: -0.07,
    method: 1056,
    area: UNITED_STATES,
  },
  {
    code: 9334,
    from: 'ITRF2014',
    to: 'KSA-GRF17',
    version: 1,
    epochYear: 2017,
    accuracyM: 0.001,
    rxMasPerYear: -1.199,
    ryMasPerYear: 0.107,
    rzMasPerYear: -1.468,
    method: 1053,
    area: SAUDI_ARABIA,
  },
];
