import type { PlatePole } from './plate-pole.js';

/** A translation of a whole velocity field, millimetres per year along X, Y and Z. */
export interface OriginRate {
  readonly xMmPerYear: number;
  readonly yMmPerYear: number;
  readonly zMmPerYear: number;
}

/** A model of rigid plates: its poles, and what is known of it as a whole. */
export interface PlateModel {
  readonly name: string;
  /** Frame its rotations are expressed in. */
  readonly frame: string;
  /** Weighted root mean square of the residuals of the sites it was made of, metres per year, on the stable inside of plates. */
  readonly sigmaMPerYear: number;
  readonly poles: readonly PlatePole[];
}

/** Names of the models, as they are asked for. */
export const PLATE_MODEL_KEYS = ['itrf2014', 'itrf2020', 'itrf2020-rotation'] as const;
export type PlateModelKey = (typeof PLATE_MODEL_KEYS)[number];

/** The model where none is named. */
export const DEFAULT_PLATE_MODEL: PlateModelKey = 'itrf2014';

type PoleRow = readonly [code: string, name: string, x: number, y: number, z: number];

function modelOf(
  name: string,
  frame: string,
  sigma: number,
  rate: OriginRate | null,
  rows: readonly PoleRow[],
): PlateModel {
  return {
    name,
    frame,
    sigmaMPerYear: sigma,
    poles: rows.map(([code, plate, omegaXMasPerYear, omegaYMasPerYear, omegaZMasPerYear]) => ({
      code,
      name: plate,
      model: name,
      frame,
      omegaXMasPerYear,
      omegaYMasPerYear,
      omegaZMasPerYear,
      originRate: rate,
      sigmaMPerYear: sigma,
    })),
  };
}

const ROWS_2014: readonly PoleRow[] = [
  ['ANTA', 'Antarctic', -0.248, -0.324, 0.675],
  ['ARAB', 'Arabian', 1.154, -0.136, 1.444],
  ['AUST', 'Australian', 1.51, 1.182, 1.215],
  ['EURA', 'Eurasian', -0.085, -0.531, 0.77],
  ['INDI', 'Indian', 1.154, -0.005, 1.454],
  ['NAZC', 'Nazca', -0.333, -1.544, 1.623],
  ['NOAM', 'North American', 0.024, -0.694, -0.063],
  ['NUBI', 'Nubian', 0.099, -0.614, 0.733],
  ['PCFC', 'Pacific', -0.409, 1.047, -2.169],
  ['SOAM', 'South American', -0.27, -0.301, -0.14],
  ['SOMA', 'Somali', -0.121, -0.794, 0.884],
];

const ROWS_2020: readonly PoleRow[] = [
  ['AMUR', 'Amurian', -0.131, -0.551, 0.837],
  ['ANTA', 'Antarctic', -0.269, -0.312, 0.678],
  ['ARAB', 'Arabian', 1.129, -0.146, 1.438],
  ['AUST', 'Australian', 1.487, 1.175, 1.223],
  ['CARB', 'Caribbean', 0.207, -1.422, 0.726],
  ['EURA', 'Eurasian', -0.085, -0.519, 0.753],
  ['INDI', 'Indian', 1.137, 0.013, 1.444],
  ['NAZC', 'Nazca', -0.327, -1.561, 1.605],
  ['NOAM', 'North American', 0.045, -0.666, -0.098],
  ['NUBI', 'Nubian', 0.09, -0.585, 0.717],
  ['PCFC', 'Pacific', -0.404, 1.021, -2.154],
  ['SOAM', 'South American', -0.261, -0.282, -0.157],
  ['SOMA', 'Somali', -0.081, -0.719, 0.864],
];

/**
 * The origin rate bias of the ITRF2020 model: the velocities it was made of move as a whole against its rotations. Its
 * authors advise to add it to horizontal velocities and to discard the vertical part of what that gives.
 * Reference: ITRF2020-PMM, table 2.
 */
const ORIGIN_RATE_2020: OriginRate = { xMmPerYear: 0.37, yMmPerYear: 0.35, zMmPerYear: 0.74 };

/**
 * The plate motion models, by the name they are asked for.
 *
 * Positive rotations are right-handed about the axis, as in the position vector convention. A model describes the stable
 * inside of its plates; near plate edges, in mountains, over mines and wells and after earthquakes the ground moves otherwise.
 * `itrf2020` has the origin rate bias that its authors advise, `itrf2020-rotation` the rotations alone: without it the two
 * models differ by a millimetre a year in Africa.
 * Reference: ITRF2014-PMM, table 1; ITRF2020-PMM, tables 1 and 2.
 */
export const PLATE_MODELS: Readonly<Record<PlateModelKey, PlateModel>> = {
  itrf2014: modelOf('ITRF2014 plate motion model', 'ITRF2014', 0.0003, null, ROWS_2014),
  itrf2020: modelOf('ITRF2020 plate motion model', 'ITRF2020', 0.00025, ORIGIN_RATE_2020, ROWS_2020),
  'itrf2020-rotation': modelOf(
    'ITRF2020 plate motion model without its origin rate bias',
    'ITRF2020',
    0.00025,
    null,
    ROWS_2020,
  ),
};
