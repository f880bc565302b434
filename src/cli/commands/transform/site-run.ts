import type { SiteDocument } from '../../../core/adjustment/site-document.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { GeographicPair, GridSystem } from '../../../core/grid/systems/grid-system.js';
import { carriedNames, renamedColumnNotes } from '../../../io/tables/columns/carried-names.js';
import type { GeojsonProperty } from '../../../io/geojson/geojson-write.js';
import type { PlaceInput, PlaceReadOptions } from '../../../io/tables/points/place-rows-read.js';
import { DECIMALS } from '../../../io/tables/points/point-cells.js';
import { readSite } from '../../../io/documents/site-read.js';
import { openSource } from '../../../io/bytes/source.js';
import { wholeText } from '../../../io/text/whole-text.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import { errorProblem } from '../../../records/problem.js';
import { createSiteApplier, SITE_COLUMNS, siteCells } from '../../../tasks/site/apply-site.js';
import type { SiteResult } from '../../../tasks/site/apply-site.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { loadGridSystem } from '../../../files/load-systems.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { writtenNames } from '../../../files/points/written-names.js';
import { createRowWriter } from '../../outputs/row-writer.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { carryPlaces, openPlaceOutputs, sayLeftOut } from './carry-places.js';
import type { RowMapper } from './carry-places.js';
import { openPlaces } from './open-places.js';
import { ownPlaceCheck } from './own-place-check.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';

/** Options that name another change and do not go together with a site. */
const OTHERS = [
  'to',
  'operation',
  'shift',
  'acceptDefaultShift',
  'epoch',
  'epochFrom',
  'epochTo',
  'plate',
  'velocity',
  'fromHeight',
  'toHeight',
  'geoid',
  'geoidInterpolation',
  'geoidFrame',
  'groundAt',
  'groundTolerance',
  'topocentricAt',
] as const;

/** `transform --site FILE`: points onto a fitted site, or back with --inverse. */
export async function transformOntoSite(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  const other = OTHERS.find((name) => invocation.options[name] !== undefined);
  if (other !== undefined)
    conflict(
      `--site and --${other.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)} exclude each other`,
      'transform in two steps: first to the system of the site, then onto it',
    );
  if (textOption(invocation, 'angles') === 'dms')
    conflict('--angles dms has nothing to write: a site has plane coordinates', 'leave it out');
  const path = textOption(invocation, 'site') ?? '';
  const siteSource = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: null }));
  const site = bench.take(readSite(bench.take(await wholeText(siteSource)), siteSource.name));
  log.input(siteSource, 'site', 0, 0);
  const from = textOption(invocation, 'from');
  if (from !== null && from !== site.system) {
    throw new StopError([
      errorProblem('system-mismatch', {
        message: `the site was fitted in ${site.system} ${site.systemName} and --from says ${from}`,
        received: from,
        expected: site.system,
        hint: 'transform the points to that system first; --from may be left out',
      }),
    ]);
  }
  const grid = bench.take(loadGridSystem(site.system));
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const back = flagOption(invocation, 'inverse');
  const extrapolate = flagOption(invocation, 'extrapolate');
  record(site, grid, back, extrapolate, log);
  const tables = bench.take(tableOptions(invocation, {}));
  const opened = bench.take(
    await openPlaces(invocation.args[0] ?? '-', readOptions(site, back, tables), tables, context),
  );
  const { source, input } = opened;
  bench.take(fittedHeight(site, input, source.name));
  const outputs = await openPlaceOutputs(bench, tables);
  const own = ownColumns(site, back, input);
  const carried = carriedNames(writtenNames(bench.format, own), input.passThroughNames);
  diagnostics.report(renamedColumnNotes(carried));
  const columns = [...own, ...carried.names.map((name): GeojsonProperty => ({ name, kind: 'text' }))];
  const frame = {
    frame: grid.base.code ?? grid.base.name,
    epochYear: null,
    system: back ? site.system : `site fitted in ${site.system}`,
  };
  const writer = createRowWriter(bench.format, columns, frame, csvWriteOptions(invocation));
  const compare = back ? null : bench.take(ownPlaceCheck(grid, true, tables.positionFrom));
  const reach: SiteReach = { beyond: 0, farthestM: 0 };
  const map = createSiteMapper({ site, grid, back, extrapolate }, input, reach);
  const counts = await carryPlaces({ opened, tables, compare, map, saysPoint: true, writer, outputs }, bench, log);
  const { count, bad } = counts;
  const { beyond, farthestM } = reach;
  await outputs.sink.write(writer.end());
  diagnostics.say(
    `${count} ${count === 1 ? 'point' : 'points'} ${back ? `from the site back to ${site.system}` : `from ${site.system} onto the site`}`,
  );
  if (beyond > 0)
    diagnostics.say(
      `${beyond} of them beyond the buffer of the site, up to ${formatFixed(farthestM, 1)} m outside its control: the sigma of the site stands beside each, and nothing checks it there`,
    );
  if (site.transform.vertical === null && (input.hasOrthometric || input.hasEllipsoidal))
    diagnostics.say('heights are unchanged: the site was fitted in plan only');
  const otherKind = site.heightKind === 'orthometric' ? 'ellipsoidal' : 'orthometric';
  if (site.heightKind !== null && (otherKind === 'ellipsoidal' ? input.hasEllipsoidal : input.hasOrthometric))
    diagnostics.say(`${otherKind} heights are left out: the site was fitted with ${site.heightKind} ones`);
  sayLeftOut(opened, counts, 'the site', bench);
  if (bad > 0) diagnostics.say(`${bad} rows with errors were left out on request`);
  return endWith(rowsAnswer(count, bad), invocation, log);
}

/** A fitted site and the way to take through it. */
interface SiteWay {
  readonly site: SiteDocument;
  readonly grid: GridSystem;
  readonly back: boolean;
  readonly extrapolate: boolean;
}

/** How far the points of a run lie outside the control of the site: how many beyond its buffer, and the farthest. */
interface SiteReach {
  beyond: number;
  farthestM: number;
}

/** A row onto the site or back. */
function createSiteMapper({ site, grid, back, extrapolate }: SiteWay, input: PlaceInput, reach: SiteReach): RowMapper {
  const apply = createSiteApplier(site, { direction: back ? 'from-site' : 'to-site', extrapolate });
  const place: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  return (row, tell) => {
    const result = apply({ first: row.first, second: row.second, heightM: heightOf(row, site) });
    for (const problem of result.problems) tell(problem);
    if (!result.ok) return null;
    const { value } = result;
    if (result.problems.length > 0) reach.beyond += 1;
    reach.farthestM = Math.max(reach.farthestM, value.outsideM);
    const known = back ? grid.inverse(value.first, value.second, place) : grid.inverse(row.first, row.second, place);
    return {
      cells: cellsOf(row, value, site, input),
      latitudeDeg: known === 'ok' ? place.latitudeDeg : null,
      longitudeDeg: known === 'ok' ? place.longitudeDeg : null,
      ellipsoidalHeightM: null,
    };
  };
}

function conflict(message: string, hint: string): never {
  throw new StopError([errorProblem('usage-conflict', { message, hint })]);
}

/** The height the plane is added to; null where heights are not fitted. */
function heightOf(row: PlaceRow, site: SiteDocument): number | null {
  if (site.heightKind === null) return null;
  return site.heightKind === 'orthometric' ? row.orthometricHeightM : row.ellipsoidalHeightM;
}

/** Height columns of the output: the fitted kind alone, as the other would be at odds with it; both where heights are not fitted. */
function heights(site: SiteDocument, input: PlaceInput): readonly ('orthometric' | 'ellipsoidal')[] {
  const has = { orthometric: input.hasOrthometric, ellipsoidal: input.hasEllipsoidal };
  return (['orthometric', 'ellipsoidal'] as const).filter(
    (kind) => has[kind] && (site.heightKind === null || site.heightKind === kind),
  );
}

function ownColumns(site: SiteDocument, back: boolean, input: PlaceInput): readonly GeojsonProperty[] {
  const numbers = [
    ...(back ? site.sourceAxes : site.siteAxes).columns,
    ...heights(site, input).map((kind) => `${kind}_height_m`),
    ...SITE_COLUMNS,
  ];
  return [{ name: 'point_id', kind: 'text' }, ...numbers.map((name): GeojsonProperty => ({ name, kind: 'number' }))];
}

function cellsOf(row: PlaceRow, result: SiteResult, site: SiteDocument, input: PlaceInput): readonly string[] {
  const m = (value: number | null): string => (value === null ? '' : formatFixed(value, DECIMALS.metres));
  const height = (kind: 'orthometric' | 'ellipsoidal'): string =>
    m(
      site.heightKind === kind
        ? result.heightM
        : kind === 'orthometric'
          ? row.orthometricHeightM
          : row.ellipsoidalHeightM,
    );
  return [
    row.pointId,
    m(result.first),
    m(result.second),
    ...heights(site, input).map(height),
    ...siteCells(result),
    ...row.passThrough,
  ];
}

/** What is read of each row. */
function readOptions(site: SiteDocument, back: boolean, { mapping }: TableOptions): Omit<PlaceReadOptions, 'place'> {
  const axes = (back ? site.siteAxes : site.sourceAxes).columns;
  return { kind: 'projected', axes, needs: null, trust: 'none', mapping, beside: null, alsoLeftOut: SITE_COLUMNS };
}

/** A file with heights of the other kind only cannot get the heights of the site. */
function fittedHeight(site: SiteDocument, input: PlaceInput, source: string): Outcome<null> {
  const kind = site.heightKind;
  const [has, hasOther] =
    kind === 'orthometric'
      ? [input.hasOrthometric, input.hasEllipsoidal]
      : [input.hasEllipsoidal, input.hasOrthometric];
  if (kind === null || has || !hasOther) return success(null);
  return failure(
    errorProblem('csv-missing-column', {
      message: `the site was fitted with ${kind} heights and the file has none`,
      where: { source },
      expected: `${kind}_height_m`,
      hint: `transform the heights first: transform --to-height ${kind} --geoid MODEL`,
    }),
  );
}

function record(site: SiteDocument, grid: GridSystem, back: boolean, extrapolate: boolean, log: RunLog): void {
  log.model('system', {
    role: back ? 'to' : 'from',
    name: `${site.system} ${site.systemName}`,
    definition: grid.definition.proj4,
    sha256: null,
  });
  if (site.geoid !== null)
    log.model('grid', {
      role: 'geoid of the site',
      name: site.geoid.name,
      definition: null,
      sha256: site.geoid.sha256,
    });
  log.method({
    id: back ? 'site-inverse' : 'site',
    name: 'fitted similarity and height plane',
    source: { key: 'AITKEN-1935', locator: 'docs/methods/site-fit.md' },
  });
  log.setting('transform.inverse', back, back ? 'command line' : 'default');
  log.setting('transform.extrapolate', extrapolate, extrapolate ? 'command line' : 'default');
  log.setting('site.buffer_m', site.bufferM, 'default');
}
