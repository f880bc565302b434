import type { ShiftFunction } from '../../core/frames/shifts/shift-definition.js';
import type { Topocentric } from '../../core/frames/shifts/shift-topocentric.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import type { GridShift } from '../../core/grid/plane/grid-shift.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { PlaneTransformation } from '../../core/grid/plane/similarity-2d.js';
import type { AreaOfUse } from '../../core/projection/definition/system-definition.js';

/** One end of a transformation: what its coordinates are, and the geographic system underneath. */
export interface TransformSide {
  readonly kind: 'projected' | 'geographic' | 'geocentric';
  /** Code, or the definition where there is none. */
  readonly name: string;
  readonly geographic: GeographicSystem;
  /** With `projected` only. */
  readonly grid: GridSystem | null;
  readonly areaOfUse: AreaOfUse | null;
  /** With `geocentric` only: the coordinates are east, north and up about an origin, in the frame of `geographic`. */
  readonly topocentric: Topocentric | null;
}

/** The change of frame between the two ends, ready for many points. */
export type FrameChange =
  | { readonly kind: 'none' }
  /** Through geocentric coordinates; heights are `kept` where one frame has no ellipsoidal heights, solved for on the way back. */
  | {
      readonly kind: 'geocentric';
      readonly run: ShiftFunction;
      readonly heights: 'transformed' | 'kept' | 'kept-inverse';
    }
  | { readonly kind: 'grid'; readonly shift: GridShift; readonly direction: 'forward' | 'inverse' }
  /** Straight from grid pair to grid pair. */
  | { readonly kind: 'plane'; readonly transformation: PlaneTransformation; readonly direction: 'forward' | 'inverse' };

/** Something done to the grid pair at one end: the ground scale of a job, or the coordinates of a site. */
export interface PlaneStep {
  /** Its own names for the two columns, such as `ground_westing_m`. */
  readonly columns: readonly [string, string];
  readonly transformation: PlaneTransformation;
}

/** Everything a transformation needs besides the points. */
export interface TransformSetup {
  readonly from: TransformSide;
  readonly to: TransformSide;
  readonly change: FrameChange;
  /** Undone on the way in: the file holds ground or site coordinates. */
  readonly stepIn: PlaneStep | null;
  /** Done on the way out. */
  readonly stepOut: PlaneStep | null;
  /** Orthometric to ellipsoidal height, at the source or at the target; null: not asked for. */
  readonly toEllipsoidal: { readonly geoid: GeoidModel; readonly at: 'source' | 'target' } | null;
  /** Ellipsoidal to orthometric height at the target. */
  readonly toOrthometric: GeoidModel | null;
  /** Added to orthometric heights: target less source at a place in the target system; null: none. */
  readonly verticalM: ((latitudeDeg: number, longitudeDeg: number) => number) | null;
  /** Whether latitude and longitude are needed whatever the target (GeoJSON). */
  readonly needsPlace: boolean;
  /** Positions that look exchanged, in feet or without a constant are taken as they stand, with a warning. */
  readonly acceptsPosition: boolean;
}
