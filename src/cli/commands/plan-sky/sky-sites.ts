import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { WGS84 } from '../../../core/ellipsoid/ellipsoid.js';
import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { loadHeldBases } from '../../../files/corrections/load-held-bases.js';
import { loadPlanSystems } from '../../../files/plan/load-plan-systems.js';
import type { PlanSystems } from '../../../files/plan/load-plan-systems.js';
import { isGeojson } from '../../../files/plan/open-plan-input.js';
import { openPoints } from '../../../files/points/open-points.js';
import { failure } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import type { SkySite, SkyTimes } from '../../../records/sky/site-sky.js';
import type { HeldBase } from '../../../tasks/corrections/hold-broadcast.js';
import { locateRows } from '../../../tasks/plan/targets/locate-rows.js';
import { collectPoints } from '../../inputs/collect-points.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { tableOptions } from '../../inputs/table-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { parseBasePlace } from '../plan-baseline/options/plan-place.js';

/** The places of a plan, before their masks. */
export interface SkySites {
  readonly sites: readonly SkySite[];
  readonly base: SkySite | null;
  readonly ellipsoid: Ellipsoid;
  /** Of the positions; null: no system is named, and they are of WGS 84. */
  readonly fixesSystem: GeographicSystem | null;
  /** Bad rows of the points that were left out on request. */
  readonly rejected: number;
}

/** Reads points and base. Without points the base is the only site. Problems stop the run. */
export async function skySites(
  bench: Workbench,
  log: RunLog,
  resolved: ResolvedSession,
  times: SkyTimes,
): Promise<SkySites> {
  const { invocation } = bench;
  const [path] = invocation.args;
  const named = path === undefined ? null : await readSites(path, bench, log, resolved);
  const systems = named?.systems ?? null;
  const { session } = resolved;
  const ofSession = session.bases.length === 0 ? null : bench.take(await loadHeldBases(resolved));
  const ellipsoid = systems?.fixesSystem.ellipsoid ?? ofSession?.ellipsoid ?? WGS84;
  const points = named?.sites ?? []; // Without a file there are none.
  const base = baseAsked(
    bench,
    { points, held: ofSession?.bases ?? [], ellipsoid: ofSession?.ellipsoid ?? WGS84 }, // Without a session there are none.
    times,
  );
  if (path === undefined && base === null)
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: 'neither points nor a base are named',
          hint: 'name a file of points, or the base with --base LAT,LON,H',
        }),
      ),
    );
  const isAlone = path === undefined && base !== null;
  return {
    sites: isAlone ? [base] : points.filter(({ id }) => id !== base?.id),
    base: isAlone ? null : base,
    ellipsoid,
    fixesSystem: systems?.fixesSystem ?? null,
    rejected: named?.rejected ?? 0, // Without a file nothing was left out.
  };
}

interface ReadSites {
  readonly sites: readonly SkySite[];
  readonly systems: PlanSystems;
  readonly rejected: number;
}

async function readSites(path: string, bench: Workbench, log: RunLog, resolved: ResolvedSession): Promise<ReadSites> {
  const { invocation, context } = bench;
  const tables = bench.take(tableOptions(invocation, resolved.session));
  const systems = bench.take(loadPlanSystems(resolved.session, isGeojson(path)));
  const { grid, fixesSystem } = systems;
  log.models({ fixesSystem, grid, geoid: null }, bench.diagnostics);
  const needs = { position: grid === null ? 'geographic' : 'any', height: 'none' } as const;
  const opened = bench.take(await openPoints(path, 0, { tables, grid, needs }, context));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const { points, rejected } = await collectPoints(opened, bench, tables.onError, rejects);
  log.input(opened.source, opened.kind, points.length, rejected);
  const acceptsPosition = flagOption(invocation, 'acceptPosition');
  const rows = bench.take(
    locateRows(points, { grid, fixesSystem, acceptsPosition, geoid: null, sources: [opened.source.name] }),
  );
  const sites = rows.map(({ row: _row, ...place }): SkySite => ({ ...place, skyline: [] }));
  return { sites, systems, rejected };
}

interface KnownPlaces {
  readonly points: readonly SkySite[];
  readonly held: readonly HeldBase[];
  readonly ellipsoid: Ellipsoid;
}

/** The base that --base names; without it the one of the session, where it has one alone. Null: none. */
function baseAsked(bench: Workbench, { points, held, ellipsoid }: KnownPlaces, times: SkyTimes): SkySite | null {
  const asked = textOption(bench.invocation, 'base');
  const ofDay = held.filter(
    ({ fromMs, toMs }) => (fromMs === null || fromMs < times.toMs) && (toMs === null || toMs > times.fromMs),
  );
  const siteOf = ({ id, broadcastArp }: HeldBase): SkySite => ({
    ...geocentricToGeodetic(broadcastArp, ellipsoid),
    id,
    skyline: [],
  });
  if (asked === null) {
    const candidates = ofDay.length > 0 ? ofDay : held;
    const ids = [...new Set(candidates.map(({ id }) => id))];
    const [only] = candidates;
    if (ids.length > 1)
      bench.take(
        failure(
          errorProblem('usage-invalid', {
            message: `the session has ${String(ids.length)} bases: ${ids.join(', ')}`,
            hint: `say which one is meant, such as --base ${entryAt(ids, 0)}`,
          }),
        ),
      );
    return only === undefined ? null : siteOf(only);
  }
  const own = [...ofDay, ...held].find(({ id }) => id === asked);
  if (own !== undefined) return siteOf(own);
  const point = points.find(({ id }) => id === asked);
  if (point !== undefined) return point;
  const place = parseBasePlace(asked);
  if (place.ok) return { ...place.value, skyline: [] };
  if (asked.includes(',')) bench.take(place);
  const known = [...new Set([...held.map(({ id }) => id), ...points.map(({ id }) => id)])];
  bench.take(
    failure(
      errorProblem('usage-invalid', {
        message: `--base ${asked} is neither a place nor a base of the session nor a point`,
        received: asked,
        expected: known.length === 0 ? 'LAT,LON or LAT,LON,H' : `LAT,LON,H, or one of ${known.slice(0, 12).join(', ')}`,
      }),
    ),
  );
  return null;
}
