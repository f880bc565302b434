import type { Ellipsoid } from '../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../ellipsoid/geocentric.js';
import type { GeocentricWay } from '../frames/grids/geocentric-grid.js';
import type { GeoidModel } from './geoid-height.js';

/** The way between the frame a geoid is given in and the one its heights are wanted in. */
export interface GeoidCarriage {
  /** From the frame of the geoid to the one wanted, X, Y, Z in metres. */
  readonly toWanted: GeocentricWay;
  /** Its inverse. */
  readonly toGeoid: GeocentricWay;
  readonly wantedEllipsoid: Ellipsoid;
  readonly geoidEllipsoid: Ellipsoid;
}

/**
 * A geoid given in one frame as a geoid of another: N of the other frame is the height of the same surface over the other
 * ellipsoid, so that h − N is the same height in both.
 *
 * Given: the geoid; the shifts between the two frames, outside of which there is no geoid either. Returned: the model for places of the wanted frame.
 * Note: the grid is read at the place in its own frame. The verticals of the two frames differ by the shift over the radius of
 * the Earth: 5e-5 for 300 m, which at 2000 m of height moves the place that is read by 0.1 m, and H by micrometres.
 */
export function carriedGeoid(geoid: GeoidModel, carriage: GeoidCarriage): GeoidModel {
  const { toWanted, toGeoid, wantedEllipsoid, geoidEllipsoid } = carriage;
  const scratch = { xM: NaN, yM: NaN, zM: NaN };
  const placeOfGrid = (latitudeDeg: number, longitudeDeg: number): ReturnType<typeof geocentricToGeodetic> | null => {
    const at = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM: 0 }, wantedEllipsoid);
    return toGeoid(at.xM, at.yM, at.zM, scratch) ? geocentricToGeodetic(scratch, geoidEllipsoid) : null;
  };
  return {
    ...geoid,
    heightAt(latitudeDeg, longitudeDeg) {
      if (!(Math.abs(latitudeDeg) <= 90) || !Number.isFinite(longitudeDeg)) return null;
      const place = placeOfGrid(latitudeDeg, longitudeDeg);
      const n = place === null ? null : geoid.heightAt(place.latitudeDeg, place.longitudeDeg);
      if (place === null || n === null) return null;
      const onGeoid = geodeticToGeocentric({ ...place, ellipsoidalHeightM: n }, geoidEllipsoid);
      if (!toWanted(onGeoid.xM, onGeoid.yM, onGeoid.zM, scratch)) return null;
      return geocentricToGeodetic(scratch, wantedEllipsoid).ellipsoidalHeightM;
    },
    statusAt(latitudeDeg, longitudeDeg) {
      if (!(Math.abs(latitudeDeg) <= 90) || !Number.isFinite(longitudeDeg)) return 'outside';
      const place = placeOfGrid(latitudeDeg, longitudeDeg);
      return place === null ? 'outside' : geoid.statusAt(place.latitudeDeg, place.longitudeDeg);
    },
  };
}
