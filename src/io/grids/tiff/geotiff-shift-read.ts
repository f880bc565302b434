import type { ShiftGridContent, ShiftGridFacts } from '../../../core/frames/grids/shift-grid.js';
import type { GridLevel } from '../../../core/geoid/geoid-grid.js';
import type { GridShiftLevel } from '../../../core/grid/plane/grid-shift.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import { DEFAULT_GRID_READING } from '../grid-reading.js';
import type { GridReading } from '../grid-reading.js';
import { readGeotiffComponents } from './geotiff-components.js';
import type { ComponentKind, ComponentLevels, ComponentSample } from './geotiff-components.js';
import { ANGLES, LENGTHS } from './geotiff-units.js';

// How far values may lie from zero: far beyond every datum there is, and near enough to tell a unit, or a no-data value, that
// the file does not state. Common practice, no published source.
const DEGREE_OF_ARC = { most: 3600, unit: 'seconds of arc', words: 'shifts between frames' };
const TRANSLATION = { most: 5000, unit: 'm', words: 'translations between frames' };
const ELLIPSOIDAL = { most: 1000, unit: 'm', words: 'shifts of ellipsoidal heights' };
const VERTICAL = { most: 200, unit: 'm', words: 'offsets between heights' };

const angle = (name: string): ComponentSample => ({ name, units: ANGLES, bound: DEGREE_OF_ARC });

/** The kinds of shifts. Reference: GTG, "TYPE" and "DESCRIPTION". */
const KINDS: readonly ComponentKind[] = [
  { type: 'HORIZONTAL_OFFSET', samples: [angle('latitude_offset'), angle('longitude_offset')] },
  {
    type: 'GEOGRAPHIC_3D_OFFSET',
    samples: [
      angle('latitude_offset'),
      angle('longitude_offset'),
      { name: 'ellipsoidal_height_offset', units: LENGTHS, bound: ELLIPSOIDAL },
    ],
  },
  {
    type: 'ELLIPSOIDAL_HEIGHT_OFFSET',
    samples: [{ name: 'ellipsoidal_height_offset', units: LENGTHS, bound: ELLIPSOIDAL }],
  },
  {
    type: 'GEOCENTRIC_TRANSLATION',
    samples: ['x_translation', 'y_translation', 'z_translation'].map((name) => ({
      name,
      units: LENGTHS,
      bound: TRANSLATION,
    })),
  },
  {
    type: 'VERTICAL_OFFSET_VERTICAL_TO_VERTICAL',
    samples: [{ name: 'vertical_offset', units: LENGTHS, bound: VERTICAL }],
  },
];

/** What a grid of shifts holds, and what it says of itself. */
export interface ShiftGridRead {
  readonly content: ShiftGridContent;
  readonly facts: ShiftGridFacts;
}

/**
 * Reads a geodetic TIFF of shifts: of latitude and longitude, with or without the ellipsoidal height; of that alone; of X, Y, Z; of heights.
 *
 * Given: the file's bytes. Returned: one level for each image, and the systems it states.
 * Problems: those of `readGeotiffComponents`; grid-unsupported for a way of interpolation that is not known or too wide for
 * one of its grids, and for translations whose places are in neither of their two systems.
 * Reference: GTG, "TYPE", "source_crs_epsg_code", "target_crs_epsg_code", "interpolation_method".
 */
export async function readGeotiffShift(
  bytes: Uint8Array,
  reading: GridReading = DEFAULT_GRID_READING,
): Promise<Outcome<ShiftGridRead>> {
  const read = await readGeotiffComponents(bytes, KINDS, 'shifts', reading);
  if (!read.ok) return read;
  const interpolation = interpolationOf(read.value);
  if (!interpolation.ok) return interpolation;
  const { frame, itemOf, type } = read.value;
  const to = codeOf(itemOf('target_crs_epsg_code'));
  const stated = codeOf(itemOf('source_crs_epsg_code'));
  // Without a word of it the source is the system of the places; where no target is stated either, nothing is known of the two.
  const from = stated ?? (to === null || type === VERTICAL_TYPE ? null : frame);
  const content = contentOf(read.value, { frame, from, to });
  if (!content.ok) return content;
  const facts = { frame, from, to, fromName: from, toName: to, interpolation: interpolation.value };
  return success({ content: content.value, facts });
}

const VERTICAL_TYPE = 'VERTICAL_OFFSET_VERTICAL_TO_VERTICAL';

function contentOf(
  { type, levels }: ComponentLevels,
  ends: Pick<ShiftGridFacts, 'frame' | 'from' | 'to'>,
): Outcome<ShiftGridContent> {
  const [first, second, third] = [entryAt(levels, 0), levels[1], levels[2]];
  if (type === VERTICAL_TYPE) return success({ kind: 'vertical', offsets: first });
  if (second === undefined) return success({ kind: 'geographic', shifts: null, heights: first });
  if (type !== 'GEOCENTRIC_TRANSLATION')
    return success({ kind: 'geographic', shifts: shiftLevels(first, second), heights: third ?? null });
  const readAt = placesOf(ends);
  return readAt === null
    ? unsupported(
        `its places are in ${String(ends.frame)}, and it leads from ${String(ends.from)} to ${String(ends.to)}`,
        'places in one of the two systems',
      )
    : success({ kind: 'geocentric', axes: [first, second, entryAt(levels, 2)], readAt });
}

/** Whose latitude and longitude the nodes of translations stand at: the source's unless the file says the target's; null: neither's. */
function placesOf({ frame, from, to }: Pick<ShiftGridFacts, 'frame' | 'from' | 'to'>): 'source' | 'target' | null {
  if (frame === null || to === null || frame === from) return 'source';
  return frame === to ? 'target' : null;
}

function shiftLevels(latitudes: readonly GridLevel[], longitudes: readonly GridLevel[]): readonly GridShiftLevel[] {
  return latitudes.map((level, index) => {
    const { southDeg, westDeg, latitudeStepDeg, longitudeStepDeg, rows, columns } = level;
    const shape = { southDeg, westDeg, latitudeStepDeg, longitudeStepDeg, rows, columns };
    return { ...shape, latitudeArcsec: level.values, longitudeArcsec: entryAt(longitudes, index).values };
  });
}

/** The way that the file asks for; bilinear where it says nothing. */
function interpolationOf({ itemOf, levels }: ComponentLevels): Outcome<ShiftGridFacts['interpolation']> {
  const method = itemOf('interpolation_method') ?? 'bilinear';
  if (method !== 'bilinear' && method !== 'biquadratic')
    return unsupported(`it is to be interpolated ${method}`, 'bilinear or biquadratic');
  const isNarrow = levels.flat().some(({ rows, columns }) => rows < 3 || columns < 3);
  if (method === 'biquadratic' && isNarrow)
    return unsupported('it is to be interpolated biquadratic, and a grid of it has two rows or columns', '3 of each');
  return success(method);
}

function codeOf(text: string | null): string | null {
  return text !== null && /^\d{4,9}$/u.test(text) ? `EPSG:${text}` : null;
}

function unsupported(message: string, expected: string): Outcome<never> {
  return failure(
    errorProblem('grid-unsupported', {
      message: `the TIFF does not hold shifts that can be used: ${message}`,
      expected,
    }),
  );
}
