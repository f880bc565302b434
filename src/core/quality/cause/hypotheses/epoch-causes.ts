import { geodeticToGeocentric } from '../../../ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../../ellipsoid/local-frame.js';
import { plateVelocity } from '../../../frames/plates/plate-motion.js';
import { DEFAULT_PLATE_MODEL, PLATE_MODELS } from '../../../frames/plates/plate-models.js';
import type { CauseContext } from '../cause-context.js';
import type { CausePoint } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import { isNearPlate } from './plate-boxes.js';
import { gridPattern, toGridAxes } from '../observation-list.js';

/** Longest span of years, and shortest, that is believed. */
const LONGEST_YEARS = 60;
const SHORTEST_YEARS = 0.5;

/** The cause of another epoch: the motion of each plate near the day over some years. */
export function epochCauses({ day, list, hasHorizontal }: CauseContext): readonly CauseModel[] {
  if (!hasHorizontal) return [];
  const models: CauseModel[] = [];
  const poles = PLATE_MODELS[DEFAULT_PLATE_MODEL].poles.filter((pole) =>
    isNearPlate(pole.code, day.points[0] as CausePoint),
  );
  for (const pole of poles) {
    const perYear = gridPattern(day, list, (point) => {
      if (point.latitudeDeg === null || point.longitudeDeg === null) return null;
      const ellipsoidalHeightM =
        // A height that is not known takes no part: the motion of a plate hardly depends on it.
        (point.knownHeightM ?? 0) + (day.heightKind === 'orthometric' ? (point.geoidHeightM ?? 0) : 0);
      const velocity = plateVelocity(
        geodeticToGeocentric(
          { latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM },
          day.ellipsoid,
        ),
        pole,
      );
      return toGridAxes(
        point,
        geocentricToLocal(localFrameAt(point.latitudeDeg, point.longitudeDeg), {
          xM: velocity.xMPerYear,
          yM: velocity.yMPerYear,
          zM: velocity.zMPerYear,
        }),
      );
    });
    if (perYear === null) break;
    models.push({
      cause: 'epoch',
      subject: `${pole.name} plate`,
      fixed: null,
      columns: [perYear],
      isWhitened: false,
      choices: poles.length,
      read: ([years = 0], [sigma = 0]) =>
        Math.abs(years) > LONGEST_YEARS || Math.abs(years) < SHORTEST_YEARS
          ? null
          : [{ name: 'years', value: years, sigma, unit: 'years' }],
    });
  }
  return models;
}
