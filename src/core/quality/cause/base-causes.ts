import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../geodesy/local-frame.js';
import type { LocalFrame } from '../../geodesy/local-frame.js';
import type { LocalVector } from '../../../records/point.js';
import type { CauseContext } from './cause-context.js';
import type { CauseDay, CausePoint } from './cause-day.js';
import type { CauseModel } from './cause-model.js';
import { gridPattern, toGridAxes } from './observation-list.js';

const AXES: readonly LocalVector[] = [
  { eastM: 1, northM: 0, upM: 0 },
  { eastM: 0, northM: 1, upM: 0 },
  { eastM: 0, northM: 0, upM: 1 },
];
/** Largest slip of an antenna height that is believed, metres. */
const LARGEST_ANTENNA_SLIP_M = 5;
const NOTHING: LocalVector = { eastM: 0, northM: 0, upM: 0 };

/**
 * Causes at the base: its coordinate (one geocentric vector for all its points), its antenna height (that vector along
 * the base's vertical) and an antenna's phase-centre offset of stated size.
 */
export function baseCauses(context: CauseContext): readonly CauseModel[] {
  const { day, hasHorizontal, hasVertical } = context;
  const groups = baseGroups(day);
  const models: CauseModel[] = [];
  for (const { id, frame } of groups) {
    const columns = AXES.map((axis) => gridPattern(day, context.list, (point) => (id === null || point.baseId === id ? atPoint(point, frame, axis) : NOTHING)));
    const [east, north, up] = columns;
    if (east === null || north === null || up === null || east === undefined || north === undefined || up === undefined) continue;
    const subject = id === null ? '' : `base ${id}`;
    const shared = { subject, fixed: null, isWhitened: false, choices: groups.length };
    if (hasHorizontal) {
      models.push({
        ...shared,
        cause: 'base-coordinate',
        columns: hasVertical ? [east, north, up] : [east, north],
        read: (values, sigmas) => ['east', 'north', 'up'].slice(0, values.length).map((name, i) => ({ name, value: values[i] ?? 0, sigma: sigmas[i] ?? null, unit: 'm' })),
      });
    }
    if (!hasVertical) continue;
    models.push({
      ...shared,
      cause: 'base-antenna-height',
      columns: [up],
      read: ([height = 0], [sigma = 0]) => (Math.abs(height) > LARGEST_ANTENNA_SLIP_M ? null : [{ name: 'too_high', value: height, sigma, unit: 'm' }]),
    });
    const offsets = [...new Set(day.phaseCentreOffsetsM.filter((offset) => offset !== 0).flatMap((offset) => [offset, -offset]))];
    for (const offset of offsets) {
      models.push({
        ...shared,
        cause: 'phase-centre',
        fixed: up.map((value) => value * offset),
        columns: [],
        choices: (groups.length * offsets.length) / 2,
        read: () => [{ name: 'offset', value: offset, sigma: null, unit: 'm' }],
      });
    }
  }
  return models;
}

function atPoint(point: CausePoint, frame: LocalFrame | null, axis: LocalVector): LocalVector {
  if (frame === null || point.latitudeDeg === null || point.longitudeDeg === null) return toGridAxes(point, axis);
  const here = localFrameAt(point.latitudeDeg, point.longitudeDeg);
  return toGridAxes(point, geocentricToLocal(here, localToGeocentric(frame, axis)));
}

/** All points as one (about the middle of the day where the base is not known), and each base where there are several. */
function baseGroups(day: CauseDay): readonly { readonly id: string | null; readonly frame: LocalFrame | null }[] {
  const ids = [...new Set(day.points.map((point) => point.baseId))].filter((id) => id !== null);
  const frameOf = (id: string | null): LocalFrame | null => {
    const base = id === null ? undefined : day.bases.get(id);
    if (base !== undefined) return localFrameAt(base.latitudeDeg, base.longitudeDeg);
    const first = day.points.find((point) => point.latitudeDeg !== null && point.longitudeDeg !== null);
    return first?.latitudeDeg === undefined || first.latitudeDeg === null || first.longitudeDeg === null ? null : localFrameAt(first.latitudeDeg, first.longitudeDeg);
  };
  if (ids.length === 1 && day.points.every((point) => point.baseId !== null)) return [{ id: null, frame: frameOf(ids[0] ?? null) }];
  return [{ id: null, frame: frameOf(null) }, ...ids.map((id) => ({ id, frame: frameOf(id) }))];
}
