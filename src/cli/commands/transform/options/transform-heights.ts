import type { GeoidModel } from '../../../../core/geoid/geoid-height.js';
import type { GridReading } from '../../../../io/grids/grid-reading.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { HeightKind } from '../../../../records/points/point.js';
import type { TransformSetup } from '../../../../tasks/transform/transform-setup.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { geoidOptions } from '../../../inputs/geoid-options.js';
import { loadGeoid } from '../../../../files/load-geoid.js';
import type { LoadedSide } from './transform-side.js';

/** What becomes of heights, ready to run. */
export interface ResolvedHeights extends Pick<TransformSetup, 'toEllipsoidal' | 'toOrthometric'> {
  /** The height column the file has to have; null: any or none. */
  readonly needs: HeightKind | null;
  readonly wanted: HeightKind | null;
  readonly geoid: GeoidModel | null;
  /** What is said of the geoid; nothing without one. */
  readonly said: readonly string[];
}

/**
 * Heights by --from-height, --to-height and --geoid. An orthometric height becomes ellipsoidal in the frame of the
 * source, or of the target where the geoid belongs to that one; an ellipsoidal one orthometric in the frame of the target.
 * Problems: config-missing without a geoid; usage-conflict for one that nothing uses; those of the geoid.
 */
export async function transformHeights(
  invocation: Invocation,
  folder: string,
  reading: GridReading,
  from: LoadedSide,
  to: LoadedSide,
): Promise<Outcome<ResolvedHeights>> {
  const given = textOption(invocation, 'fromHeight') as HeightKind | null;
  const wanted = textOption(invocation, 'toHeight') as HeightKind | null;
  const options = geoidOptions(invocation);
  if (!options.ok) return options;
  const { model, interpolation, statedFrame } = options.value;
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
  const assumed = source === null && target === 'ellipsoidal' && model !== null;
  if (!changes && !assumed) {
    if (model !== null) {
      return failure(
        errorProblem('usage-conflict', {
          message: '--geoid is given and no height changes its kind',
          hint: 'say --from-height and --to-height, or leave out --geoid',
        }),
      );
    }
    return success({ needs: given ?? wanted, wanted, toEllipsoidal: null, toOrthometric: null, geoid: null, said: [] });
  }
  if (model === null) {
    return failure(
      errorProblem('config-missing', {
        message: `${source ?? ''} heights become ${target ?? ''} through a geoid, and none is named`,
        hint: 'give --geoid egm96 (decimetre class) or a grid file; h = H + N',
      }),
    );
  }
  const load = (side: LoadedSide): ReturnType<typeof loadGeoid> =>
    loadGeoid(
      { model, interpolation: interpolation ?? 'bilinear', sigmaM: null, statedFrame },
      folder,
      side.geographic,
      reading,
    );
  if (target === 'orthometric') {
    const loaded = await load(to);
    if (!loaded.ok) return loaded;
    return success(
      {
        needs: from.kind === 'geocentric' ? null : 'ellipsoidal',
        wanted: target,
        toEllipsoidal: null,
        toOrthometric: loaded.value.geoid,
        geoid: loaded.value.geoid,
        said: [geoidSaid(loaded.value.geoid, statedFrame)],
      },
      loaded.problems,
    );
  }
  const loaded = await geoidOfEither(load, from, to);
  if (!loaded.ok) return loaded;
  return success(
    {
      needs: 'orthometric',
      wanted: target,
      toEllipsoidal: { geoid: loaded.value.geoid, at: loaded.value.at },
      toOrthometric: null,
      geoid: loaded.value.geoid,
      said: [geoidSaid(loaded.value.geoid, statedFrame)],
    },
    loaded.problems,
  );
}

type LoadedGeoid = Awaited<ReturnType<typeof loadGeoid>>;

/** The geoid at the source, or at the target where its heights belong to the frame of that one. */
async function geoidOfEither(
  load: (side: LoadedSide) => Promise<LoadedGeoid>,
  from: LoadedSide,
  to: LoadedSide,
): Promise<Outcome<{ readonly geoid: GeoidModel; readonly at: 'source' | 'target' }>> {
  const source = await load(from);
  if (source.ok) return success({ geoid: source.value.geoid, at: 'source' }, source.problems);
  if (!source.problems.every(isFrameMismatch)) return source;
  const target = await load(to);
  return target.ok ? success({ geoid: target.value.geoid, at: 'target' }, target.problems) : source;
}

function geoidSaid({ grid, interpolation }: GeoidModel, statedFrame: string | null): string {
  const frame =
    statedFrame !== null
      ? `taken to be given in ${statedFrame}`
      : grid.frame === null
        ? 'its frame not stated'
        : `given in ${grid.frame}`;
  return `geoid ${grid.name}, ${interpolation}, ${frame}`;
}

function isFrameMismatch(problem: Problem): boolean {
  return problem.code === 'grid-frame-mismatch';
}
