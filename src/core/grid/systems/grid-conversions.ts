import { DEGREES_PER_RADIAN, normaliseLongitudeDeg, RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import { isInsideArea } from './area-of-use.js';
import { unitsEastNorth } from './grid-axes.js';
import type { GeographicPair, GridAxes, GridPair, GridPairAndFactors, GridStatus, GridSystem } from './grid-system.js';
import type { AnglePair, PlanePairAndFactors, ProjectionEngine } from '../../projection/projection-engine.js';
import type { AreaOfUse } from '../../projection/definition/system-definition.js';

/** What the conversions of a grid need. */
export interface ConversionSetting {
  readonly engine: ProjectionEngine;
  readonly axes: GridAxes;
  readonly conformal: boolean;
  readonly areaOfUse: AreaOfUse | null;
}

/** Outside the area of use a forward result must come back to within this, radians (6 mm). */
const RETURN_TOLERANCE_RAD = 1e-9;

/**
 * The three conversions of a grid: ranges checked, degrees and units converted, axes turned.
 *
 * Notes: 1. A projection can give finite nonsense where it does not hold. Inside the area of use it
 * holds; elsewhere the result is projected back and must return to where it came from. 2. The out
 * records are written only on success. Inverse of forward: inverse.
 */
export function gridConversions(
  setting: ConversionSetting,
): Pick<GridSystem, 'forward' | 'inverse' | 'forwardWithFactors'> {
  const { engine, conformal, areaOfUse } = setting;
  // Grid units per metre east and north; division by the unit, so that the exact foot stays exact.
  const [eastUnit, northUnit] = unitsEastNorth(setting.axes);
  const plane: PlanePairAndFactors = {
    eastM: 0,
    northM: 0,
    convergenceRad: 0,
    meridianScaleFactor: 1,
    parallelScaleFactor: 1,
  };
  const back: AnglePair = { latitudeRad: 0, longitudeRad: 0 };

  function returns(latitudeDeg: number, longitudeDeg: number): boolean {
    if (areaOfUse !== null && isInsideArea(areaOfUse, latitudeDeg, longitudeDeg)) return true;
    if (!engine.inverse(plane.eastM, plane.northM, back)) return false;
    const latitudeRad = latitudeDeg * RADIANS_PER_DEGREE;
    if (!(Math.abs(back.latitudeRad - latitudeRad) < RETURN_TOLERANCE_RAD)) return false;
    const turn = Math.abs(normaliseLongitudeDeg(back.longitudeRad * DEGREES_PER_RADIAN - longitudeDeg));
    return Math.min(turn, 360 - turn) * RADIANS_PER_DEGREE * Math.cos(latitudeRad) < RETURN_TOLERANCE_RAD;
  }

  function forward(latitudeDeg: number, longitudeDeg: number, out: GridPair): GridStatus {
    if (!(latitudeDeg >= -90 && latitudeDeg <= 90)) return 'latitude-out-of-range';
    if (!(longitudeDeg >= -180 && longitudeDeg <= 360)) return 'longitude-out-of-range';
    const longitudeRad = normaliseLongitudeDeg(longitudeDeg) * RADIANS_PER_DEGREE;
    if (!engine.forward(latitudeDeg * RADIANS_PER_DEGREE, longitudeRad, plane)) return 'coordinate-outside-domain';
    if (!returns(latitudeDeg, longitudeDeg)) return 'coordinate-outside-domain';
    // Adding 0 turns a negative zero into zero.
    out.first = plane.eastM / eastUnit + 0;
    out.second = plane.northM / northUnit + 0;
    return 'ok';
  }

  function forwardWithFactors(latitudeDeg: number, longitudeDeg: number, out: GridPairAndFactors): GridStatus {
    if (!(latitudeDeg >= -90 && latitudeDeg <= 90)) return 'latitude-out-of-range';
    if (!(longitudeDeg >= -180 && longitudeDeg <= 360)) return 'longitude-out-of-range';
    const longitudeRad = normaliseLongitudeDeg(longitudeDeg) * RADIANS_PER_DEGREE;
    if (!engine.forwardWithFactors(latitudeDeg * RADIANS_PER_DEGREE, longitudeRad, plane))
      return 'coordinate-outside-domain';
    if (!returns(latitudeDeg, longitudeDeg)) return 'coordinate-outside-domain';
    out.first = plane.eastM / eastUnit + 0;
    out.second = plane.northM / northUnit + 0;
    out.convergenceDeg = plane.convergenceRad * DEGREES_PER_RADIAN;
    out.meridianScaleFactor = plane.meridianScaleFactor;
    out.parallelScaleFactor = plane.parallelScaleFactor;
    out.pointScaleFactor = conformal ? (plane.meridianScaleFactor + plane.parallelScaleFactor) / 2 : null;
    return 'ok';
  }

  function inverse(first: number, second: number, out: GeographicPair): GridStatus {
    const eastM = first * eastUnit;
    const northM = second * northUnit;
    if (!(Number.isFinite(eastM) && Number.isFinite(northM))) return 'coordinate-outside-domain';
    if (!engine.inverse(eastM, northM, back)) return 'coordinate-outside-domain';
    const latitudeDeg = Math.min(90, Math.max(-90, back.latitudeRad * DEGREES_PER_RADIAN));
    const longitudeDeg = normaliseLongitudeDeg(back.longitudeRad * DEGREES_PER_RADIAN);
    if (areaOfUse === null || !isInsideArea(areaOfUse, latitudeDeg, longitudeDeg)) {
      if (!engine.forward(latitudeDeg * RADIANS_PER_DEGREE, longitudeDeg * RADIANS_PER_DEGREE, plane)) {
        return 'coordinate-outside-domain';
      }
      const apart = Math.max(Math.abs(plane.eastM - eastM), Math.abs(plane.northM - northM));
      if (!(apart < 0.01)) return 'coordinate-outside-domain';
    }
    out.latitudeDeg = latitudeDeg + 0;
    out.longitudeDeg = longitudeDeg + 0;
    return 'ok';
  }

  return { forward, inverse, forwardWithFactors };
}
