import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../../ellipsoid/local-frame.js';
import type { LocalFrame } from '../../../ellipsoid/local-frame.js';
import type { LocalVector } from '../../../../records/points/point.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseDay, CausePoint } from '../cause-day.js';
import { slantSlips } from './slant-slips.js';
import type { CauseEstimate, CauseModel } from '../cause-model.js';
import { gridPattern, toGridAxes } from '../observation-list.js';

const AXES: readonly LocalVector[] = [
  { eastM: 1, northM: 0, upM: 0 },
  { eastM: 0, northM: 1, upM: 0 },
  { eastM: 0, northM: 0, upM: 1 },
];
/** Largest slip of an antenna height that is believed, metres. */
const LARGEST_ANTENNA_SLIP_M = 5;
/** An estimate this many sigmas off the range of a slip is not that slip. */
const RANGE_SIGMAS = 1.96;
/** Reference point to phase centre of survey antennas, metres; from memory, coarse. */
const LEAST_PHASE_OFFSET_M = 0.03;
const MOST_PHASE_OFFSET_M = 0.25;
const NOTHING: LocalVector = { eastM: 0, northM: 0, upM: 0 };

/**
 * Causes at the base: its coordinate (one geocentric vector for all its points), its antenna height (that vector along
 * the base's vertical), a slant taken as a vertical height (the same, of a size that the session gives or within what
 * antennas give) and an antenna's phase-centre offset, of stated size or, where none is stated, within what antennas have.
 */
export function baseCauses(context: CauseContext): readonly CauseModel[] {
  const { day, hasHorizontal, hasVertical } = context;
  const groups = baseGroups(day);
  return groups.flatMap(({ id, baseId, frame }) => {
    const columns = AXES.map((axis) =>
      gridPattern(day, context.list, (point) =>
        id === null || point.baseId === id ? atPoint(point, frame, axis) : NOTHING,
      ),
    );
    // A vector is given at every point, so the patterns are whole.
    const [east, north, up] = columns as [Float64Array, Float64Array, Float64Array];
    const subject = id === null ? '' : `base ${day.bases.get(id)?.name ?? id}`;
    const shared: SharedByGroup = { subject, fixed: null, isWhitened: false, choices: groups.length };
    const models = hasHorizontal ? [coordinateModel(shared, hasVertical ? [east, north, up] : [east, north])] : [];
    if (!hasVertical) return models;
    const antenna = baseId === null ? null : (day.bases.get(baseId)?.antenna ?? null);
    return [
      ...models,
      antennaModel(shared, up),
      ...slantModels(shared, up, slantSlips(antenna)),
      ...phaseCentreModels(shared, up, day.phaseCentreOffsetsM),
    ];
  });
}

/** What the causes of one group of points have in common. */
type SharedByGroup = Pick<CauseModel, 'subject' | 'fixed' | 'isWhitened' | 'choices'>;

function coordinateModel(shared: SharedByGroup, columns: readonly Float64Array[]): CauseModel {
  return {
    ...shared,
    cause: 'base-coordinate',
    columns,
    read: (values, sigmas) =>
      ['east', 'north', 'up']
        .slice(0, values.length)
        .map((name, i) => ({ name, value: values[i] as number, sigma: sigmas[i] as number, unit: 'm' })),
  };
}

function antennaModel(shared: SharedByGroup, up: Float64Array): CauseModel {
  return {
    ...shared,
    cause: 'base-antenna-height',
    columns: [up],
    read: ([height = 0], [sigma = 0]) =>
      Math.abs(height) > LARGEST_ANTENNA_SLIP_M ? null : [{ name: 'too_high', value: height, sigma, unit: 'm' }],
  };
}

/** Slants of a size that the session gives, and one within what antennas give. */
function slantModels(
  shared: SharedByGroup,
  up: Float64Array,
  { known, range }: ReturnType<typeof slantSlips>,
): readonly CauseModel[] {
  const models = known.map(({ words, tooHighM }): CauseModel => ({
    ...shared,
    cause: 'slant-height',
    subject: shared.subject === '' ? words : `${shared.subject}: ${words}`,
    fixed: up.map((value) => value * tooHighM),
    columns: [],
    choices: shared.choices * known.length,
    read: () => [{ name: 'too_high', value: tooHighM, sigma: null, unit: 'm' }],
  }));
  if (range === null) return models;
  return [
    ...models,
    {
      ...shared,
      cause: 'slant-height',
      columns: [up],
      read: ([height = 0], [sigma = 0]) =>
        height + RANGE_SIGMAS * sigma < range.leastM || height - RANGE_SIGMAS * sigma > range.mostM
          ? null
          : [
              { name: 'too_high', value: height, sigma, unit: 'm' },
              { name: 'expected_at_least', value: range.leastM, sigma: null, unit: 'm' },
              { name: 'expected_at_most', value: range.mostM, sigma: null, unit: 'm' },
            ],
    },
  ];
}

/** Offsets of stated size, either way; where none is stated, one within what antennas have. */
function phaseCentreModels(shared: SharedByGroup, up: Float64Array, statedM: readonly number[]): readonly CauseModel[] {
  if (statedM.every((offset) => offset === 0))
    return [{ ...shared, cause: 'phase-centre', columns: [up], read: readUnstatedOffset }];
  const offsets = [...new Set(statedM.filter((offset) => offset !== 0).flatMap((offset) => [offset, -offset]))];
  return offsets.map((offset) => ({
    ...shared,
    cause: 'phase-centre',
    fixed: up.map((value) => value * offset),
    columns: [],
    choices: (shared.choices * offsets.length) / 2,
    read: () => [{ name: 'offset', value: offset, sigma: null, unit: 'm' }],
  }));
}

/** An offset that the session does not state: any within what antennas have, as one that cannot be told from others of its size. */
function readUnstatedOffset(
  [height = 0]: readonly number[],
  [sigma = 0]: readonly number[],
): readonly CauseEstimate[] | null {
  const size = Math.abs(height);
  if (size + RANGE_SIGMAS * sigma < LEAST_PHASE_OFFSET_M || size - RANGE_SIGMAS * sigma > MOST_PHASE_OFFSET_M)
    return null;
  return [
    { name: 'offset', value: height, sigma, unit: 'm' },
    { name: 'expected_at_least', value: LEAST_PHASE_OFFSET_M, sigma: null, unit: 'm' },
    { name: 'expected_at_most', value: MOST_PHASE_OFFSET_M, sigma: null, unit: 'm' },
  ];
}

function atPoint(point: CausePoint, frame: LocalFrame | null, axis: LocalVector): LocalVector {
  if (frame === null || point.latitudeDeg === null || point.longitudeDeg === null) return toGridAxes(point, axis);
  const here = localFrameAt(point.latitudeDeg, point.longitudeDeg);
  return toGridAxes(point, geocentricToLocal(here, localToGeocentric(frame, axis)));
}

/** All points as one (about the middle of the day where the base is not known), and each base where there are several. */
function baseGroups(
  day: CauseDay,
): readonly { readonly id: string | null; readonly baseId: string | null; readonly frame: LocalFrame | null }[] {
  const ids = [...new Set(day.points.map((point) => point.baseId))].filter((id) => id !== null);
  const frameOf = (id: string | null): LocalFrame | null => {
    const base = id === null ? undefined : day.bases.get(id);
    if (base !== undefined) return localFrameAt(base.latitudeDeg, base.longitudeDeg);
    const first = day.points.find((point) => point.latitudeDeg !== null && point.longitudeDeg !== null);
    return first?.latitudeDeg === undefined || first.latitudeDeg === null || first.longitudeDeg === null
      ? null
      : localFrameAt(first.latitudeDeg, first.longitudeDeg);
  };
  const [only, ...others] = ids;
  if (only !== undefined && others.length === 0 && day.points.every((point) => point.baseId !== null))
    return [{ id: null, baseId: only, frame: frameOf(only) }];
  return [
    { id: null, baseId: null, frame: frameOf(null) },
    ...ids.map((id) => ({ id, baseId: id, frame: frameOf(id) })),
  ];
}
