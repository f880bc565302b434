import { pushAll } from '../../core/numeric/push-all.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { WorkingStep } from '../../records/working-step.js';
import { geocentricStep, geodeticStep } from '../explain/position/explain-geodetic.js';
import { degrees, geocentricText, metres } from '../explain/explain-text.js';
import { explainProjection } from '../explain/projection/projection-lines.js';
import type { WatchLeg } from './compose-transform.js';
import { emptyPointOnTheWay } from './point-on-the-way.js';
import type { PointOnTheWay } from './point-on-the-way.js';
import { wayOf } from './step.js';
import type { Leg } from './step.js';
import type { TransformSide } from './transform-plan.js';
import type { LegWorking } from './working/leg-working.js';

/** Collects what each leg does to the point in hand. */
export interface ExplainedWay extends WatchLeg {
  /** Forgets the last point, and collects of the next or not. */
  readonly begin: (isWanted: boolean) => void;
  readonly steps: () => readonly WorkingStep[];
}

/** A watch that makes a step of a worked explanation of each leg. */
export function explainWay(): ExplainedWay {
  const before = emptyPointOnTheWay();
  let steps: WorkingStep[] = [];
  let isCollecting = false;
  return {
    begin(isWanted) {
      isCollecting = isWanted;
      steps = [];
    },
    before(point) {
      if (isCollecting) Object.assign(before, point);
    },
    after(leg, side, point) {
      if (!isCollecting) return;
      pushAll(steps, side === null ? legSteps(leg, before, point) : [conversionStep(leg, side, before, point)]);
    },
    steps: () => steps,
  };
}

/** Between plane, latitude and longitude, and X, Y, Z of one frame. */
function conversionStep(leg: Leg, side: TransformSide, before: PointOnTheWay, after: PointOnTheWay): WorkingStep {
  const { ellipsoid } = side.geographic;
  const isPlane = wayOf({ step: leg.step, direction: 'inverse' }).needs === 'plane';
  if (isPlane) return projectionStep(leg, side, before, after);
  const geodetic = ({
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM,
    orthometricHeightM,
  }: PointOnTheWay): GeodeticPoint => ({
    latitudeDeg,
    longitudeDeg,
    // A height that is not known stands in as the program lets it: the orthometric one, or 0.
    ellipsoidalHeightM: ellipsoidalHeightM ?? orthometricHeightM ?? 0,
  });
  const step =
    leg.direction === 'forward'
      ? geocentricStep(`To geocentric axes, in ${side.geographic.name}`, geodetic(before), after, ellipsoid)
      : geodeticStep(
          `To latitude, longitude and height, in ${side.geographic.name}`,
          before,
          geodetic(after),
          ellipsoid,
        );
  if (!after.heightStandsIn) return step;
  return { ...step, substitution: ['no ellipsoidal height is known: another, or 0, stands in', ...step.substitution] };
}

function projectionStep(leg: Leg, side: TransformSide, before: PointOnTheWay, after: PointOnTheWay): WorkingStep {
  const { grid } = side;
  const isForward = leg.direction === 'forward';
  // Of a conversion between a plane and its places both are known: the one before it, or the one after.
  const [plane, place] = isForward ? [after, before] : [before, after];
  const pair =
    grid === null
      ? `${formatFixed(plane.first, 4)}, ${formatFixed(plane.second, 4)}`
      : `${grid.axes[0].columnName} ${formatFixed(plane.first, 4)}, ${grid.axes[1].columnName} ${formatFixed(plane.second, 4)}`;
  const geographic = `φ ${degrees(place.latitudeDeg)}, λ ${degrees(place.longitudeDeg)}`;
  const own = grid === null ? null : explainProjection(grid, place, [plane.first, plane.second]);
  const isPrinted = own?.isPrinted === true;
  return {
    title: isForward
      ? `Onto the grid of ${side.name}`
      : `Off the grid of ${side.name}${isPrinted ? ', shown by the way back: what the place found gives on the grid' : ''}`,
    formula: own?.formula ?? 'projection',
    substitution: [
      ...(isPrinted ? [] : [isForward ? geographic : pair]),
      ...(own?.substitution ?? ['the terms of this method are not printed']),
    ],
    result: [isForward ? pair : geographic],
    source: own?.source ?? 'docs/methods/grid-systems.md',
  };
}

/** A change of frame, a motion, a geoid, a site: what it is by its own words, and what it did, of a chain leg by leg. */
function legSteps(leg: Leg, before: PointOnTheWay, after: PointOnTheWay): readonly WorkingStep[] {
  const { step, direction } = leg;
  const { needs, gives } = wayOf(leg);
  const worked = step.working?.(direction, before, after) ?? NOT_SHOWN;
  const [said = null, ...more] = step.said(direction);
  const title = said ?? worked[0]?.title ?? null;
  if (title === null) return [];
  const source = sourceOf(leg);
  const result = [coordinatesText(gives ?? needs, after)];
  if (worked.length === 0) {
    const formula = `${needs} to ${gives ?? 'the same'}`;
    return [{ title, formula, substitution: [...more, `before: ${coordinatesText(needs, before)}`], result, source }];
  }
  return worked.map(({ title: own, source: cited, formula, lines }, at) => {
    const isLast = at === worked.length - 1;
    return {
      title: own ?? title,
      formula,
      substitution: [...(isLast ? more.filter((line) => !worked.some((other) => other.title === line)) : []), ...lines],
      result: isLast ? result : [],
      source: cited ?? source,
    };
  });
}

const NOT_SHOWN: readonly LegWorking[] = [];

function sourceOf({ step, direction }: Leg): string {
  const origins = step.recorded(direction).flatMap(({ origin, source }) => [
    ...(origin == null ? [] : [origin]),
    // A source of a method is a key and a place.
    ...(source === undefined ? [] : [Object.values(source).join(', ')]),
  ]);
  return origins[0] ?? 'docs/methods/datum-operations.md';
}

function coordinatesText(form: ReturnType<typeof wayOf>['needs'], point: PointOnTheWay): string {
  const heights = [
    ...(point.ellipsoidalHeightM === null ? [] : [`h ${metres(point.ellipsoidalHeightM)}`]),
    ...(point.orthometricHeightM === null ? [] : [`H ${metres(point.orthometricHeightM)}`]),
  ];
  switch (form) {
    case 'geocentric':
      return geocentricText(point);
    case 'plane':
      return [`pair ${formatFixed(point.first, 4)}, ${formatFixed(point.second, 4)}`, ...heights].join(', ');
    case 'place':
      return [`φ ${degrees(point.latitudeDeg)}, λ ${degrees(point.longitudeDeg)}`, ...heights].join(', ');
    case 'topocentric':
      return `east ${metres(point.eastM)}, north ${metres(point.northM)}, up ${metres(point.upM)}`;
  }
}
