import type { AxisSigns } from '../../../grid/systems/grid-axes.js';
import type { CauseContext } from '../cause-context.js';
import type { CausePoint } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import { isZero, offsetsAt, standName, standOf } from '../stand-columns.js';

const AXES = ['east', 'north', 'up'] as const;
/** Which axes of a control point may be wrong: plan, height, or both. */
const PARTS: readonly (readonly number[])[] = [[0, 1], [2], [0, 1, 2]];
/** An exchange is looked for only where each residual lies this near the way between the points, as a share of it. */
const NEAR_SHARE = 0.5;

/**
 * Causes in the control itself: the coordinate of one point wrong, by one offset of any size in all its occupations; the
 * names of two points exchanged, in the list or at two stands.
 */
export function controlCauses(context: CauseContext): readonly CauseModel[] {
  return [...coordinateModels(context), ...exchangeModels(context)];
}

/** Indexes of the stands of each point. */
function standsOf({ day }: CauseContext): ReadonlyMap<string, readonly number[]> {
  const stands = new Map<string, number[]>();
  day.points.forEach(({ pointId }, index) => {
    const own = stands.get(pointId);
    if (own === undefined) stands.set(pointId, [index]);
    else own.push(index);
  });
  return stands;
}

function coordinateModels(context: CauseContext): readonly CauseModel[] {
  const stands = standsOf(context);
  // Of one point alone its coordinate and everything common to the day are one.
  if (stands.size < 2) return [];
  const units = AXES.map((_, axis) => AXES.map((__, other) => (other === axis ? 1 : 0)));
  return [...stands].flatMap(([pointId, indexes]) => {
    const columns = units.map((unit) => offsetsAt(context, indexes, unit));
    return PARTS.flatMap((axes): readonly CauseModel[] => {
      const own = axes.map((axis) => columns[axis] as Float64Array);
      if (own.some(isZero)) return [];
      return [
        {
          cause: 'control-coordinate',
          subject: pointId,
          fixed: null,
          columns: own,
          isWhitened: true,
          choices: PARTS.length * stands.size,
          stand: indexes.length === 1 ? standOf(context, indexes[0] as number) : null,
          read: (values, sigmas) =>
            axes.map((axis, i) => ({
              name: AXES[axis] as string,
              value: values[i] as number,
              sigma: sigmas[i] as number,
              unit: 'm',
            })),
        },
      ];
    });
  });
}

/** Known place of one point less that of another, along the axes; null where plan is not known. */
function way(from: CausePoint, to: CausePoint, signs: AxisSigns): readonly [number, number, number] | null {
  if (from.knownFirstM === null || from.knownSecondM === null || to.knownFirstM === null || to.knownSecondM === null)
    return null;
  return [
    signs[0] * (to.knownFirstM - from.knownFirstM),
    signs[1] * (to.knownSecondM - from.knownSecondM),
    // Plan is what is looked at: heights that are not known are no difference.
    (to.knownHeightM ?? 0) - (from.knownHeightM ?? 0),
  ];
}

function isNear({ eastM, northM }: CausePoint, [east, north]: readonly [number, number, number]): boolean {
  return (
    eastM !== null &&
    northM !== null &&
    Math.hypot(eastM - east, northM - north) <= NEAR_SHARE * Math.hypot(east, north)
  );
}

/** Both residuals lie along the way between the points, in opposite senses: a pair of all stands, and a pair of one stand each. */
function exchangeModels(context: CauseContext): readonly CauseModel[] {
  const { day } = context;
  if (!context.hasHorizontal) return [];
  const models: CauseModel[] = [];
  const add = (
    subject: string,
    first: readonly number[],
    second: readonly number[],
    offset: readonly [number, number, number],
    choices: number,
  ): void => {
    const there = offsetsAt(context, first, offset);
    const back = offsetsAt(context, second, offset);
    models.push({
      cause: 'names-exchanged',
      subject,
      fixed: there.map((value, i) => value - (back[i] as number)),
      columns: [],
      isWhitened: true,
      choices,
      read: () => [{ name: 'apart', value: Math.hypot(offset[0], offset[1]), sigma: null, unit: 'm' }],
    });
  };
  const stands = [...standsOf(context)];
  const at = (index: number): CausePoint => day.points[index] as CausePoint;
  stands.forEach(([pointA, ownA], a) => {
    for (const [pointB, ownB] of stands.slice(a + 1)) {
      const offset = way(at(ownA[0] as number), at(ownB[0] as number), day.axisSigns);
      if (offset === null) continue;
      const back = offset.map((value) => -value) as [number, number, number];
      const nearA = ownA.filter((index) => isNear(at(index), offset));
      const nearB = ownB.filter((index) => isNear(at(index), back));
      if (nearA.length === 0 || nearB.length === 0) continue;
      const pairs = (stands.length * (stands.length - 1)) / 2;
      if (nearA.length === ownA.length && nearB.length === ownB.length)
        add(`${pointA} and ${pointB}`, ownA, ownB, offset, 2 * pairs);
      if (ownA.length === 1 && ownB.length === 1) continue;
      for (const i of nearA)
        for (const j of nearB)
          add(
            `${standName(context, i)} and ${standName(context, j)}`,
            [i],
            [j],
            offset,
            day.points.length * (day.points.length - 1),
          );
    }
  });
  return models;
}
