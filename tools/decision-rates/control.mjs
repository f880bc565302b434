// A list of control: true places plus the error of each mark's coordinate.
import { axesAt, fromLocal, plus, toGeocentric, toGeodetic } from './earth.mjs';
import { CONTROL_SIGMAS_M } from './survey.mjs';

/** Given: marks with `pointId`, `place` and `off` (a planted error along east, north and up). Returned: CSV. */
export function controlOf(marks, random, { sigmasM = CONTROL_SIGMAS_M, role = 'check' } = {}) {
  const [h, v] = sigmasM;
  const rows = marks.map(({ pointId, place, off = [0, 0, 0] }) => {
    const error = [h * random.normal() + off[0], h * random.normal() + off[1], v * random.normal() + off[2]];
    const [latitude, longitude, height] = toGeodetic(plus(toGeocentric(place), fromLocal(axesAt(place), error)));
    return `${pointId},${latitude.toFixed(10)},${longitude.toFixed(10)},${height.toFixed(4)},${h},${v},${role}\n`;
  });
  return `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m,role\n${rows.join('')}`;
}
