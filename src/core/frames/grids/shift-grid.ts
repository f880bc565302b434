import { createGeoidHeight } from '../../geoid/geoid-height.js';
import type { GridLevel } from '../../geoid/geoid-grid.js';
import { createGridShift } from '../../grid/plane/grid-shift.js';
import type { GridShift, GridShiftLevel } from '../../grid/plane/grid-shift.js';
import { InternalError } from '../../../records/internal-error.js';
import type { TranslationsAt } from './geocentric-grid.js';

/** What a grid of shifts holds: levels finest first. */
export type ShiftGridContent =
  /** Target minus source of latitude, longitude and, where there is one, ellipsoidal height; `shifts` null: of that alone. */
  | {
      readonly kind: 'geographic';
      readonly shifts: readonly GridShiftLevel[];
      readonly heights: readonly GridLevel[] | null;
    }
  | { readonly kind: 'geographic'; readonly shifts: null; readonly heights: readonly GridLevel[] }
  /** Target minus source along X, Y and Z, at latitudes and longitudes of one of the two. */
  | {
      readonly kind: 'geocentric';
      readonly axes: readonly [readonly GridLevel[], readonly GridLevel[], readonly GridLevel[]];
      readonly readAt: 'source' | 'target';
    }
  /** Target minus source of heights above two vertical datums. */
  | { readonly kind: 'vertical'; readonly offsets: readonly GridLevel[] };

/** What the file of a grid of shifts says of itself. */
export interface ShiftGridFacts {
  /** Code of the geographic system its places are in; null: not stated. */
  readonly frame: string | null;
  /** Codes of the systems it leads between; null: not stated. Of offsets between heights they are vertical ones. */
  readonly from: string | null;
  readonly to: string | null;
  /** The same in the file's own words. */
  readonly fromName: string | null;
  readonly toName: string | null;
  readonly interpolation: 'bilinear' | 'biquadratic';
}

/** A number over latitude and longitude, degrees; null outside, and at a node without one. */
export type ValueAt = (latitudeDeg: number, longitudeDeg: number) => number | null;

/** A grid of shifts, ready for points. Made by `createShiftGrid`. */
export type ShiftGrid =
  /** `shift` null: places do not change. `heightAddedM`, of the source place: what the ellipsoidal height grows by; null: heights do not change. */
  | { readonly kind: 'geographic'; readonly shift: GridShift; readonly heightAddedM: ValueAt | null }
  | { readonly kind: 'geographic'; readonly shift: null; readonly heightAddedM: ValueAt }
  | { readonly kind: 'geocentric'; readonly translationsAt: TranslationsAt; readonly readAt: 'source' | 'target' }
  | { readonly kind: 'vertical'; readonly addedM: ValueAt };

/**
 * A grid of shifts, ready for points.
 * Given: what it holds; the way of interpolation, of which every level has rows and columns enough.
 * Reference: GTG; PROJ-DOC, grid shift, horizontal, vertical and geocentric grid shift.
 */
export function createShiftGrid(content: ShiftGridContent, interpolation: ShiftGridFacts['interpolation']): ShiftGrid {
  const over = (levels: readonly GridLevel[]): ValueAt => {
    const grid = { name: 'grid of shifts', sha256: null, frame: null, precisionNote: null, levels };
    const made = createGeoidHeight(grid, interpolation);
    if (!made.ok) throw new InternalError('a grid of shifts has rows and columns enough');
    return made.value.heightAt;
  };
  switch (content.kind) {
    case 'geographic': {
      if (content.shifts === null) return { kind: 'geographic', shift: null, heightAddedM: over(content.heights) };
      const { shifts, heights } = content;
      const shift = createGridShift(shifts, interpolation);
      return { kind: 'geographic', shift, heightAddedM: heights === null ? null : over(heights) };
    }
    case 'geocentric': {
      const [x, y, z] = content.axes;
      const [xAt, yAt, zAt] = [over(x), over(y), over(z)];
      return {
        kind: 'geocentric',
        readAt: content.readAt,
        translationsAt(latitudeDeg, longitudeDeg, out) {
          const [dx, dy, dz] = [
            xAt(latitudeDeg, longitudeDeg),
            yAt(latitudeDeg, longitudeDeg),
            zAt(latitudeDeg, longitudeDeg),
          ];
          if (dx === null || dy === null || dz === null) return false;
          out.xM = dx;
          out.yM = dy;
          out.zM = dz;
          return true;
        },
      };
    }
    case 'vertical':
      return { kind: 'vertical', addedM: over(content.offsets) };
  }
}
