import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import type { ShiftDirection } from '../../core/frames/shifts/shift-definition.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { MethodRef } from '../../records/runs/provenance.js';
import { frameNameOf, isSameFrame } from './change/named-side.js';
import type { NamedSide } from './change/named-side.js';
import { namedChange, unusedMotion } from './change/named-change.js';
import { motionWarning } from './change/shift-change.js';
import type { ChangeRequest, PlannedChange, WatchedOperation } from './change/shift-change.js';
import { shiftFileChange } from './change/shift-file-change.js';
import type { FiledShift } from './change/shift-file-change.js';
import { planEnd } from './plan-end.js';
import type { EndRequest, PlannedEnd } from './plan-end.js';
import { planHeights } from './plan-heights.js';
import type { HeightRequest, PlannedHeights } from './plan-heights.js';
import { recordedOf, saidOf } from './step.js';
import type { Leg } from './step.js';
import type { TransformPlan } from './transform-plan.js';

/** Everything that is asked of a transformation. */
export interface TransformRequest {
  readonly from: NamedSide;
  readonly to: NamedSide;
  readonly change: ChangeRequest;
  /** The shift of a file, with the direction that leads from `from` to `to`; null: none. */
  readonly shift: { readonly filed: FiledShift; readonly direction: ShiftDirection } | null;
  readonly end: EndRequest | null;
  readonly heights: HeightRequest;
  /** Latitude and longitude are wanted whatever the target. */
  readonly needsPlace: boolean;
  readonly acceptsPosition: boolean;
}

/** A transformation laid out in steps, and what is said and recorded of it. */
export interface PlannedTransform {
  readonly plan: TransformPlan;
  /** The sides as the ends need them. */
  readonly from: NamedSide;
  readonly to: NamedSide;
  readonly end: PlannedEnd | null;
  /** A site in the system it was fitted in, and nothing else. */
  readonly isOwnSite: boolean;
  readonly heights: Pick<PlannedHeights, 'needs' | 'geoid' | 'gives'>;
  /** What moves the points, for the figures of trust beside them: their place, their heights alone, or neither. */
  readonly moves: 'place' | 'heights' | 'nothing';
  /** Decimal year the written coordinates belong to; null where their frame moves with its plate or none is known. */
  readonly epochYear: number | null;
  readonly methods: readonly MethodRef[];
  /** Lines for people. */
  readonly said: readonly string[];
  readonly watched: readonly WatchedOperation[];
}

/**
 * Lays a transformation out in steps.
 * Problems: those of the change, the end and the heights; usage-conflict where what is asked for does not go together.
 *
 * @example
 * // EPSG:1504 is a translation of (-134.73, -110.92, -292.66) m.
 * const side = (name) => ({ kind: 'geocentric', name, geographic: loadGeographicSystem(name).value, grid: null, areaOfUse: null });
 * const named = (name) => ({ ...side(name), label: name, toWgs84: null, definition: null });
 * const change = { operations: ['EPSG:1504'], acceptsDefault: false, inverse: false, epochYear: null, motion: null, chainBy: null, chainModel: null };
 * const heights = { given: null, wanted: null, loadGeoid: null, statedFrame: null };
 * const asked = { shift: null, end: null, needsPlace: false, acceptsPosition: false };
 * const planned = await planTransform({ from: named('EPSG:4222'), to: named('EPSG:4148'), change, heights, ...asked });
 * planned.value.plan.change.length; // 1
 * planned.value.moves; // 'place'
 */
export async function planTransform(request: TransformRequest): Promise<Outcome<PlannedTransform>> {
  const { from, to, shift, end: asked } = request;
  const change = plannedChange(request);
  if (!change.ok) return change;
  const { vertical, watched } = change.value;
  const planned = asked === null ? null : planEnd(asked, from, to, request.change.inverse);
  if (planned !== null && !planned.ok) return planned;
  const end = planned?.value ?? null;
  const [fromEnd, toEnd] = [end?.at === 'in' ? end.side : from, end?.at === 'out' ? end.side : to];
  const heights = await planHeights(request.heights, fromEnd, toEnd);
  if (!heights.ok) return heights;
  const { atSource, geoid } = heights.value;
  const conflict =
    (vertical === null ? null : verticalConflict(request, geoid)) ??
    inverseConflict(request) ??
    siteConflict(request, end);
  if (conflict !== null) return failure(conflict);
  const legs = {
    entry: end?.at === 'in' ? [end.leg] : [],
    atSource,
    change: change.value.change,
    atTarget: [...withVertical(vertical, heights.value.atTarget)],
    exit: end?.at === 'out' ? [end.leg] : [],
  };
  const isOwnSite = end?.kind === 'site' && from.name === to.name;
  const warnings = [
    ...change.problems,
    ...motionWarning(from, request.change.motion),
    ...geoidOfSite(end, geoid),
    ...heights.problems,
  ];
  const words = inWords(legs.change, vertical, [...atSource, ...heights.value.atTarget], end);
  return success(
    {
      plan: {
        from: fromEnd,
        to: toEnd,
        ...legs,
        needsPlace: request.needsPlace || watched.length > 0,
        judges: { source: true, target: !isOwnSite },
        acceptsPosition: request.acceptsPosition,
      },
      from: fromEnd,
      to: toEnd,
      end,
      isOwnSite,
      heights: vertical === null ? heights.value : { ...heights.value, needs: 'orthometric' },
      moves: movesOf(legs.change, end, vertical !== null || geoid !== null),
      epochYear:
        frameNameOf(toEnd)?.startsWith('ITRF') === true || request.change.motion !== null
          ? request.change.epochYear
          : null,
      methods: recordedOf(words),
      said: [...(shift === null ? unnamedDatum(from, to) : []), ...saidOf(words)],
      watched,
    },
    warnings,
  );
}

function movesOf(change: readonly Leg[], end: PlannedEnd | null, movesHeights: boolean): PlannedTransform['moves'] {
  if (change.length > 0 || end?.kind === 'site') return 'place';
  return movesHeights ? 'heights' : 'nothing';
}

/** The change of frame; --inverse belongs to the end where there is one, and an operation goes from source to target. */
function plannedChange({ from, to, change, shift, end }: TransformRequest): Outcome<PlannedChange> {
  if (shift === null) return namedChange(from, to, end === null ? change : { ...change, inverse: false });
  const unused = unusedMotion(change);
  return unused === null ? shiftFileChange(shift.filed, shift.direction, from, to, change) : failure(unused);
}

/** A vertical offset comes after a height made ellipsoidal and before one made orthometric. */
function withVertical(vertical: Leg | null, heights: readonly Leg[]): readonly Leg[] {
  if (vertical === null) return heights;
  return [
    ...heights.filter(({ direction }) => direction === 'forward'),
    vertical,
    ...heights.filter(({ direction }) => direction === 'inverse'),
  ];
}

/** The legs in the order they are spoken of: the change, topocentric axes, heights, the ground, the site. */
function inWords(
  change: readonly Leg[],
  vertical: Leg | null,
  heights: readonly Leg[],
  end: PlannedEnd | null,
): readonly Leg[] {
  const last = end === null ? [] : [end.leg];
  return [
    ...change,
    ...(vertical === null ? [] : [vertical]),
    ...(end?.kind === 'topocentric' ? last : []),
    ...heights,
    ...(end?.kind === 'topocentric' ? [] : last),
  ];
}

/** A PROJ string claims an ellipsoid and no datum: that it is taken for the other side's is said. */
function unnamedDatum(from: NamedSide, to: NamedSide): readonly string[] {
  const [unnamed, named] = from.geographic.code === null ? [from, to] : [to, from];
  if (unnamed.geographic.code !== null || named.geographic.code === null || !isSameFrame(from, to)) return [];
  // What is under a grid that counts from another meridian has a name and no code.
  if (unnamed.geographic.name === named.geographic.name) return [];
  return [`${unnamed.label} names no datum: it is taken to be ${named.geographic.name}`];
}

/** A site's heights hold for the geoid it was fitted over. */
function geoidOfSite(end: PlannedEnd | null, geoid: GeoidModel | null): readonly Problem[] {
  const fitted = end?.site?.geoid ?? null;
  if (fitted === null || geoid === null || fitted.sha256 === geoid.grid.sha256) return [];
  return [
    warningProblem('system-mismatch', {
      message: `the site was fitted over geoid ${fitted.name}, and heights go through geoid ${geoid.grid.name}`,
      received: geoid.grid.name,
      expected: fitted.name,
      hint: 'name the geoid of the fit: the difference of the two goes into every height',
    }),
  ];
}

/** A vertical method acts on the orthometric heights of the file and on nothing else. */
function verticalConflict({ heights }: TransformRequest, geoid: GeoidModel | null): Problem | null {
  if (geoid === null && heights.given !== 'ellipsoidal' && heights.wanted !== 'ellipsoidal') return null;
  return errorProblem('usage-conflict', {
    message: 'the shift file is for orthometric heights, and another change of heights is asked for too',
    hint: 'go through the geoid in a run of its own',
  });
}

/** What of the ends --inverse takes backwards, and what would make it clear. */
const ENDS = {
  ground: ['the ground scale', 'take the points from ground to grid'],
  topocentric: ['the topocentric coordinates', 'take the points out of them'],
  site: ['the site', 'take the points off the site'],
} as const;

/** What --inverse applies backwards must be there, and be one thing. */
function inverseConflict({ change, shift, end }: TransformRequest): Problem | null {
  if (!change.inverse) return null;
  if (shift === null && end === null && change.operations.length === 0) {
    return errorProblem('usage-conflict', {
      message: '--inverse has nothing to apply backwards',
      hint: 'it belongs to --shift, --ground-at, --topocentric-at and --site; to go back between two systems exchange --from and --to',
    });
  }
  if (shift === null || end === null) return null;
  const [what, hint] = ENDS[end.kind];
  return errorProblem('usage-conflict', {
    message: `--inverse could mean the shift or ${what}`,
    hint: `${hint} in a run of their own`,
  });
}

/** A site was fitted with one kind of height, and has no other. */
function siteConflict({ heights }: TransformRequest, end: PlannedEnd | null): Problem | null {
  const kind = end?.site?.heightKind ?? null;
  const asked = end?.at === 'in' ? heights.given : heights.wanted;
  if (kind === null || asked === null || asked === kind) return null;
  return errorProblem('usage-conflict', {
    message: `the site was fitted with ${kind} heights, and its coordinates are asked for with ${asked} ones`,
    hint: `say ${end?.at === 'in' ? '--from-height' : '--to-height'} ${kind}, or leave it out`,
  });
}
