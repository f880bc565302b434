import type { SiteDocument } from '../../../../core/adjustment/site/site-document.js';
import { loadGeoid } from '../../../../files/grids/load-geoid.js';
import { loadShiftFile } from '../../../../files/grids/load-shift-file.js';
import type { LoadedShift } from '../../../../files/grids/load-shift-file.js';
import { loadVelocityGrid } from '../../../../files/grids/load-velocity-grid.js';
import { loadTransformSide } from '../../../../files/systems/load-transform-side.js';
import { statedDirection } from '../../../../files/systems/stated-direction.js';
import type { ShiftGridFacts } from '../../../../core/frames/grids/shift-grid.js';
import type { VelocityGrid } from '../../../../core/frames/plates/velocity-grid.js';
import type { GridReading } from '../../../../io/grids/grid-reading.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { NamedSide } from '../../../../tasks/transform/change/named-side.js';
import type { FiledShift } from '../../../../tasks/transform/change/shift-file-change.js';
import type { HeightRequest } from '../../../../tasks/transform/plan-heights.js';
import { planTransform } from '../../../../tasks/transform/plan-transform.js';
import type { PlannedTransform, TransformRequest } from '../../../../tasks/transform/plan-transform.js';
import { geoidOptions } from '../../../inputs/geoid-options.js';
import { gridReading } from '../../../inputs/grid-reading.js';
import { flagOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { Context } from '../../../shell/context.js';
import { changeOptions } from './change-options.js';
import type { ChangeOptions } from './change-options.js';
import { endOptions } from './end-options.js';
import { openSite } from './open-site.js';
import type { OpenedSite } from './open-site.js';

/** A transformation planned from the command line, and the files it was planned from. */
export interface LoadedTransform {
  readonly planned: PlannedTransform;
  readonly options: ChangeOptions;
  readonly velocities: VelocityGrid | null;
  readonly shift: LoadedShift | null;
  readonly site: OpenedSite | null;
}

/** Loads everything the command line names, and plans. Problems: those of the files, the options and the plan. */
export async function loadTransform(
  invocation: Invocation,
  context: Pick<Context, 'cwd' | 'signal' | 'stdin'>,
  needsPlace: boolean,
): Promise<Outcome<LoadedTransform>> {
  const reading = gridReading(invocation, context.signal);
  const site = await openSite(invocation, context);
  if (!site.ok) return site;
  const sides = loadSides(invocation, site.value?.site ?? null);
  if (!sides.ok) return sides;
  const { from, to } = sides.value;
  const velocities = textOption(invocation, 'velocityGrid');
  const grid = velocities === null ? success(null) : await loadVelocityGrid(velocities, context.cwd, reading);
  if (!grid.ok) return grid;
  const options = changeOptions(invocation, grid.value);
  if (!options.ok) return options;
  const shift = await loadShift(options.value, sides.value, context.cwd, reading);
  if (!shift.ok) return shift;
  const end = endOptions(invocation, site.value);
  if (!end.ok) return end;
  const heights = heightRequest(invocation, context.cwd, reading);
  if (!heights.ok) return heights;
  const planned = await planTransform({
    from,
    to,
    change: options.value,
    shift: shift.value?.named ?? null,
    end: end.value,
    heights: heights.value,
    needsPlace,
    acceptsPosition: flagOption(invocation, 'acceptPosition'),
  });
  if (!planned.ok) return planned;
  return success(
    {
      planned: planned.value,
      velocities: grid.value,
      options: options.value,
      shift: shift.value?.loaded ?? null,
      site: site.value,
    },
    [...site.problems, ...sides.problems, ...planned.problems],
  );
}

interface Sides {
  readonly from: NamedSide;
  readonly to: NamedSide;
}

/** The two systems. A site stands on that of its fit: the target, or with --inverse the source, is that one. */
function loadSides(invocation: Invocation, site: SiteDocument | null): Outcome<Sides> {
  const isBack = flagOption(invocation, 'inverse');
  const fromText = textOption(invocation, 'from') ?? site?.system ?? null;
  if (fromText === null) {
    return failure(
      errorProblem('config-missing', {
        message: 'the system of the points is not named',
        hint: 'give --from EPSG:n; nothing is guessed from the numbers',
      }),
    );
  }
  const toText = textOption(invocation, 'to') ?? site?.system ?? fromText;
  const ofSite = isBack ? fromText : toText;
  if (site !== null && ofSite !== site.system) {
    return failure(
      errorProblem('system-mismatch', {
        message: `the site was fitted in ${site.system} ${site.systemName} and ${isBack ? '--from' : '--to'} says ${ofSite}`,
        received: ofSite,
        expected: site.system,
        hint: isBack
          ? 'leave out --from: with --inverse the file is in the coordinates of the site, and --to names where they go'
          : 'leave out --to: the points go onto the site, and --from names what they are in',
      }),
    );
  }
  const from = loadTransformSide(fromText, '--from');
  if (!from.ok) return from;
  const to = loadTransformSide(toText, '--to');
  if (!to.ok) return to;
  return success({ from: from.value, to: to.value }, [...from.problems, ...to.problems]);
}

interface Shift {
  readonly loaded: LoadedShift;
  readonly named: NonNullable<TransformRequest['shift']>;
}

/** The file of --shift with its direction between the two sides; null where it is not given. */
async function loadShift(
  { shift: name, inverse }: ChangeOptions,
  { from, to }: Sides,
  folder: string,
  reading: GridReading,
): Promise<Outcome<Shift | null>> {
  if (name === null) return success(null);
  const loaded = await loadShiftFile(name, folder, reading);
  if (!loaded.ok) return loaded;
  const filed = filedShift(loaded.value);
  const ends = statedEnds(loaded.value, filed);
  const direction = statedDirection(ends?.from ?? null, ends?.to ?? null, from, to, inverse);
  if (!direction.ok) return direction;
  return success({ loaded: loaded.value, named: { filed, direction: direction.value } });
}

/** A shift file and a geodetic TIFF name their frames by codes; NTv2 has free words, and offsets between heights lead between no two frames. */
function statedEnds(loaded: LoadedShift, filed: FiledShift): Pick<ShiftGridFacts, 'from' | 'to'> | null {
  if (loaded.kind === 'grid') return loaded.grid.kind === 'vertical' ? null : loaded.facts;
  return filed.kind === 'geocentric' ? filed.shift : filed.kind === 'method' ? filed : null;
}

function filedShift(loaded: LoadedShift): FiledShift {
  return loaded.kind === 'file' ? loaded.file : loaded;
}

function heightRequest(invocation: Invocation, folder: string, reading: GridReading): Outcome<HeightRequest> {
  const options = geoidOptions(invocation);
  if (!options.ok) return options;
  const { model, interpolation, statedFrame } = options.value;
  return success({
    given: textOption(invocation, 'fromHeight'),
    wanted: textOption(invocation, 'toHeight'),
    loadGeoid:
      model === null
        ? null
        : (side) =>
            loadGeoid(
              { model, interpolation: interpolation ?? 'bilinear', sigmaM: null, statedFrame },
              folder,
              side.geographic,
              reading,
            ),
    statedFrame,
  });
}
