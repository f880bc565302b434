import { pushAll } from '../../../../core/numeric/push-all.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { MethodRef } from '../../../../records/provenance.js';
import type { TransformSetup } from '../../../../tasks/transform/transform-setup.js';
import type { WatchedOperation } from '../../../../tasks/transform/transform-warning.js';
import { flagOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { Context } from '../../../shell/context.js';
import { gridReading } from '../../../inputs/grid-reading.js';
import { changeOptions } from './change-options.js';
import type { ChangeOptions } from './change-options.js';
import { frameChange, isSameFrame, motionWarning } from './frame-change.js';
import { groundStep } from './ground-step.js';
import type { GroundStep } from './ground-step.js';
import { loadShiftFile } from '../../../../files/load-shift-file.js';
import type { LoadedShift } from '../../../../files/load-shift-file.js';
import { shiftFileChange } from './shift-file-change.js';
import { topocentricEnd } from './topocentric-end.js';
import { transformHeights } from './transform-heights.js';
import type { ResolvedHeights } from './transform-heights.js';
import { loadTransformSide } from './transform-side.js';
import type { LoadedSide } from './transform-side.js';

/** A transformation ready to run, and what is said and recorded of it. */
export interface LoadedTransform {
  readonly setup: TransformSetup;
  readonly from: LoadedSide;
  readonly to: LoadedSide;
  readonly options: ChangeOptions;
  readonly heights: ResolvedHeights;
  readonly ground: GroundStep | null;
  readonly shift: LoadedShift | null;
  readonly methods: readonly MethodRef[];
  readonly said: readonly string[];
  readonly watched: readonly WatchedOperation[];
}

/** A PROJ string claims an ellipsoid and no datum: that it is taken for the other side's is said. */
function unnamedDatum(from: LoadedSide, to: LoadedSide): readonly string[] {
  const [unnamed, named] = from.geographic.code === null ? [from, to] : [to, from];
  if (unnamed.geographic.code !== null || named.geographic.code === null || !isSameFrame(from, to)) return [];
  return [`${unnamed.label} names no datum: it is taken to be ${named.geographic.name}`];
}

/** Loads everything the command line names. Problems: those of the parts; usage-conflict where nothing is to be done. */
export async function loadTransform(
  invocation: Invocation,
  { cwd: folder, signal }: Pick<Context, 'cwd' | 'signal'>,
  needsPlace: boolean,
): Promise<Outcome<LoadedTransform>> {
  const reading = gridReading(invocation, signal);
  const fromText = textOption(invocation, 'from');
  if (fromText === null) {
    return failure(
      errorProblem('config-missing', {
        message: 'the system of the points is not named',
        hint: 'give --from EPSG:n; nothing is guessed from the numbers',
      }),
    );
  }
  const toText = textOption(invocation, 'to') ?? fromText;
  const from = loadTransformSide(fromText, '--from');
  if (!from.ok) return from;
  const to = loadTransformSide(toText, '--to');
  if (!to.ok) return to;
  const options = changeOptions(invocation);
  if (!options.ok) return options;
  const warnings: Problem[] = [...from.problems, ...to.problems, ...motionWarning(from.value, options.value)];
  const shift = options.value.shift === null ? null : await loadShiftFile(options.value.shift, folder, reading);
  if (shift !== null && !shift.ok) return shift;
  // Beside these --inverse is theirs, and an operation goes the way from --from to --to.
  const isOfAnEnd = ['groundAt', 'topocentricAt'].some((name) => textOption(invocation, name) !== null);
  const change =
    shift === null
      ? frameChange(from.value, to.value, isOfAnEnd ? { ...options.value, inverse: false } : options.value)
      : shiftFileChange(shift.value, from.value, to.value, options.value);
  if (!change.ok) return change;
  const local = topocentricEnd(invocation, from.value, to.value, options.value.inverse);
  if (!local.ok) return local;
  const [fromEnd, toEnd] = [
    local.value?.end === 'in' ? local.value.side : from.value,
    local.value?.end === 'out' ? local.value.side : to.value,
  ];
  const heights = await transformHeights(invocation, folder, reading, fromEnd, toEnd);
  if (!heights.ok) return heights;
  const vertical = change.value.verticalM === null ? null : verticalConflict(invocation, heights.value);
  if (vertical !== null) return failure(vertical);
  const ground = groundStep(invocation, from.value, to.value, options.value.inverse);
  if (!ground.ok) return ground;
  const unclear = inverseConflict(options.value, shift !== null, ground.value !== null, local.value !== null);
  if (unclear !== null) return failure(unclear);
  pushAll(warnings, [...change.problems, ...heights.problems]);
  const { watched, methods, said } = change.value;
  return success(
    {
      setup: {
        from: fromEnd,
        to: toEnd,
        change: change.value.change,
        stepIn: ground.value?.end === 'in' ? ground.value.step : null,
        stepOut: ground.value?.end === 'out' ? ground.value.step : null,
        toEllipsoidal: heights.value.toEllipsoidal,
        toOrthometric: heights.value.toOrthometric,
        verticalM: change.value.verticalM,
        acceptsPosition: flagOption(invocation, 'acceptPosition'),
        needsPlace: needsPlace || watched.length > 0,
      },
      from: fromEnd,
      to: toEnd,
      options: options.value,
      heights: change.value.verticalM === null ? heights.value : { ...heights.value, needs: 'orthometric' },
      ground: ground.value,
      shift: shift?.value ?? null,
      methods: [
        ...methods,
        ...(local.value === null ? [] : [local.value.method]),
        ...(ground.value === null ? [] : [{ id: 'ground-scale', name: ground.value.said }]),
      ],
      said: [
        ...(shift === null ? unnamedDatum(from.value, to.value) : []),
        ...said,
        ...(local.value?.said ?? []),
        ...heights.value.said,
        ...(ground.value === null ? [] : [ground.value.said]),
      ],
      watched,
    },
    warnings,
  );
}

/** A vertical method acts on the orthometric heights of the file and on nothing else. */
function verticalConflict(invocation: Invocation, heights: ResolvedHeights): Problem | null {
  if (
    heights.geoid === null &&
    textOption(invocation, 'fromHeight') !== 'ellipsoidal' &&
    textOption(invocation, 'toHeight') !== 'ellipsoidal'
  )
    return null;
  return errorProblem('usage-conflict', {
    message: 'the shift file is for orthometric heights, and another change of heights is asked for too',
    hint: 'go through the geoid in a run of its own',
  });
}

/** What --inverse applies backwards must be there, and be one thing. */
function inverseConflict(
  { inverse, operations }: ChangeOptions,
  hasShift: boolean,
  hasGround: boolean,
  hasTopocentric: boolean,
): Problem | null {
  if (!inverse) return null;
  const isLocal = hasGround || hasTopocentric;
  if (!hasShift && !isLocal && operations.length === 0) {
    return errorProblem('usage-conflict', {
      message: '--inverse has nothing to apply backwards',
      hint: 'it belongs to --shift, --ground-at, --topocentric-at and --site; to go back between two systems exchange --from and --to',
    });
  }
  if (!hasShift || !isLocal) return null;
  const [what, hint] = hasGround
    ? ['the ground scale', 'take the points from ground to grid']
    : ['the topocentric coordinates', 'take the points out of them'];
  return errorProblem('usage-conflict', {
    message: `--inverse could mean the shift or ${what}`,
    hint: `${hint} in a run of their own`,
  });
}
