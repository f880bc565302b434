import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { HeightKind } from '../../records/points/point.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { backwards, forwards } from './step.js';
import type { Leg } from './step.js';
import { geoidStep } from './steps/geoid-step.js';
import type { TransformSide } from './transform-plan.js';
import { present } from '../../records/present.js';

/** Loads the geoid that was named for positions of a side. Problems: those of the geoid, grid-frame-mismatch among them. */
export type GeoidLoader = (side: TransformSide) => Promise<Outcome<{ readonly geoid: GeoidModel }>>;

/** What is asked of heights. */
export interface HeightRequest {
  /** The kind of the file that counts; null: not said. */
  readonly given: HeightKind | null;
  readonly wanted: HeightKind | null;
  /** Null: no geoid is named. */
  readonly loadGeoid: GeoidLoader | null;
  /** The frame the geoid is stated to be given in, instead of its own word; null: not stated. */
  readonly statedFrame: string | null;
}

/** What becomes of heights. */
export interface PlannedHeights {
  /** The height column the file has to have; null: any or none. */
  readonly needs: HeightKind | null;
  readonly atSource: readonly Leg[];
  readonly atTarget: readonly Leg[];
  readonly geoid: GeoidModel | null;
  /** The kind that the geoid makes; null: none is made. */
  readonly gives: HeightKind | null;
}

/**
 * Heights as asked for. An orthometric height becomes ellipsoidal in the frame of the source, or of the target where the
 * geoid belongs to that one; an ellipsoidal one orthometric in the frame of the target, or of the source where the geoid
 * belongs to that one: each grid is read at the place in its own frame.
 * Problems: config-missing without a geoid; usage-conflict for one that nothing uses; those of the geoid.
 */
export async function planHeights(
  { given, wanted, loadGeoid, statedFrame }: HeightRequest,
  from: TransformSide,
  to: TransformSide,
): Promise<Outcome<PlannedHeights>> {
  const source = given ?? (from.kind === 'geocentric' || wanted === 'orthometric' ? 'ellipsoidal' : null);
  if (from.kind === 'geocentric' && given === 'orthometric') {
    return failure(
      errorProblem('usage-conflict', {
        message: 'geocentric coordinates hold an ellipsoidal height',
        hint: 'leave out --from-height',
      }),
    );
  }
  const target = wanted ?? (to.kind === 'geocentric' ? 'ellipsoidal' : source);
  const changes = source !== target && source !== null && target !== null;
  // Wanted as ellipsoidal and not said what the file has: the geoid says that it is orthometric.
  const assumed = source === null && target === 'ellipsoidal' && loadGeoid !== null;
  if (!changes && !assumed) {
    if (loadGeoid !== null) {
      return failure(
        errorProblem('usage-conflict', {
          message: '--geoid is given and no height changes its kind',
          hint: 'say --from-height and --to-height, or leave out --geoid',
        }),
      );
    }
    return success({ needs: given ?? wanted, atSource: [], atTarget: [], geoid: null, gives: null });
  }
  if (loadGeoid === null) {
    return failure(
      errorProblem('config-missing', {
        message: `${present(source, 'source')} heights become ${present(target, 'target')} through a geoid, and none is named`,
        hint: 'give --geoid egm96 (decimetre class) or a grid file; h = H + N',
      }),
    );
  }
  if (target === 'orthometric') {
    const loaded = await geoidOfEither(loadGeoid, { side: to, at: 'target' }, { side: from, at: 'source' });
    if (!loaded.ok) return loaded;
    const { geoid, at } = loaded.value;
    const needs = from.kind === 'geocentric' ? null : 'ellipsoidal';
    return success(
      { needs, ...placed(backwards(geoidStep(geoid, statedFrame)), at), geoid, gives: 'orthometric' },
      loaded.problems,
    );
  }
  const loaded = await geoidOfEither(loadGeoid, { side: from, at: 'source' }, { side: to, at: 'target' });
  if (!loaded.ok) return loaded;
  const { geoid, at } = loaded.value;
  const legs = placed(forwards(geoidStep(geoid, statedFrame)), at);
  return success({ needs: 'orthometric', ...legs, geoid, gives: 'ellipsoidal' }, loaded.problems);
}

/** The leg where it belongs. */
function placed(leg: Leg, at: GeoidPlace['at']): Pick<PlannedHeights, 'atSource' | 'atTarget'> {
  return at === 'source' ? { atSource: [leg], atTarget: [] } : { atSource: [], atTarget: [leg] };
}

/** Where the geoid may be read. */
interface GeoidPlace {
  readonly side: TransformSide;
  readonly at: 'source' | 'target';
}

/** The geoid at the first place, or at the other where its heights belong to the frame of that one. */
async function geoidOfEither(
  load: GeoidLoader,
  first: GeoidPlace,
  other: GeoidPlace,
): Promise<Outcome<{ readonly geoid: GeoidModel; readonly at: GeoidPlace['at'] }>> {
  const own = await load(first.side);
  if (own.ok) return success({ geoid: own.value.geoid, at: first.at }, own.problems);
  if (!own.problems.every(isFrameMismatch)) return own;
  const others = await load(other.side);
  return others.ok ? success({ geoid: others.value.geoid, at: other.at }, others.problems) : own;
}

function isFrameMismatch(problem: Problem): boolean {
  return problem.code === 'grid-frame-mismatch';
}
