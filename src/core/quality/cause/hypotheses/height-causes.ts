import type { LocalVector } from '../../../../records/points/point.js';
import type { CauseContext } from '../cause-context.js';
import type { CausePoint } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import { gridPattern } from '../observation-list.js';

/** Steepest tilt of one height surface against another that is believed: 0.3 m in a kilometre, as ppm. */
const LARGEST_TILT_PPM = 300;
const LEAST_POINTS_FOR_PLANE = 5;
const METRES_PER_DEGREE = 111_200;

const up = (upM: number): LocalVector => ({ eastM: 0, northM: 0, upM });

/** Causes in the kind of height: the other kind compared, one geoid height for all, a tilted height surface. */
export function heightCauses(context: CauseContext): readonly CauseModel[] {
  const { day, list, hasVertical } = context;
  if (!hasVertical) return [];
  const models: CauseModel[] = [];
  // A height is given at every point, so the pattern is whole.
  const pattern = (at: (point: CausePoint) => LocalVector): Float64Array => gridPattern(day, list, at) as Float64Array;
  const shared = { isWhitened: false } as const;
  const heights = day.points.flatMap((point) =>
    point.upM === null || point.geoidHeightM === null ? [] : [point.geoidHeightM],
  );
  const compared = day.points.filter((point) => point.upM !== null);
  if (heights.length === compared.length) {
    const mean = heights.reduce((sum, height) => sum + height, 0) / heights.length;
    const ones = pattern(() => up(1));
    for (const sign of [1, -1]) {
      // Without a geoid height the mistake of kinds leaves the height as it is.
      const whole = pattern((point) => up(sign * (point.geoidHeightM ?? 0)));
      const varying = pattern((point) => up(sign * ((point.geoidHeightM ?? mean) - mean)));
      models.push({
        ...shared,
        cause: 'height-kind',
        subject: sign > 0 ? 'measured ellipsoidal, known orthometric' : 'measured orthometric, known ellipsoidal',
        fixed: whole,
        columns: [],
        choices: 2,
        read: () => [{ name: 'mean_geoid_height', value: mean, sigma: null, unit: 'm' }],
      });
      models.push({
        ...shared,
        cause: 'geoid',
        subject:
          sign > 0 ? 'one value was taken off the measured heights' : 'one value was taken off the known heights',
        fixed: varying,
        columns: [ones],
        choices: 3,
        read: ([offset = 0], [sigma = 0]) => [{ name: 'offset', value: offset, sigma, unit: 'm' }],
      });
    }
  }
  const plane = planeColumns(context);
  if (plane !== null && compared.length >= LEAST_POINTS_FOR_PLANE) {
    models.push({
      ...shared,
      cause: 'geoid',
      subject: 'the height surfaces are tilted against each other',
      fixed: null,
      columns: plane,
      choices: 3,
      read: (values, sigmas) => {
        const [offset = 0, east = 0, north = 0] = values;
        if (Math.hypot(east, north) > LARGEST_TILT_PPM) return null;
        return [
          { name: 'offset', value: offset, sigma: sigmas[0] as number, unit: 'm' },
          { name: 'tilt_east', value: east, sigma: sigmas[1] as number, unit: 'ppm' },
          { name: 'tilt_north', value: north, sigma: sigmas[2] as number, unit: 'ppm' },
        ];
      },
    });
  }
  return models;
}

/** Constant, east and north about the middle of the points, the last two so that their sizes are parts per million. */
function planeColumns({ day, list }: CauseContext): readonly Float64Array[] | null {
  const placed = day.points.flatMap(({ latitudeDeg, longitudeDeg }) =>
    latitudeDeg === null || longitudeDeg === null ? [] : [{ latitudeDeg, longitudeDeg }],
  );
  if (placed.length !== day.points.length) return null;
  const latitudeDeg = placed.reduce((sum, point) => sum + point.latitudeDeg, 0) / placed.length;
  const longitudeDeg = placed.reduce((sum, point) => sum + point.longitudeDeg, 0) / placed.length;
  const cosine = Math.cos((latitudeDeg * Math.PI) / 180);
  const place = (index: number): (typeof placed)[number] => placed[index] as (typeof placed)[number];
  return [
    gridPattern(day, list, () => up(1)),
    gridPattern(day, list, (_, index) =>
      up((place(index).longitudeDeg - longitudeDeg) * METRES_PER_DEGREE * cosine * 1e-6),
    ),
    gridPattern(day, list, (_, index) => up((place(index).latitudeDeg - latitudeDeg) * METRES_PER_DEGREE * 1e-6)),
  ] as readonly Float64Array[];
}
