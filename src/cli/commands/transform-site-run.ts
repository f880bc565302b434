import { extname } from 'node:path';
import type { SiteDocument } from '../../core/adjustment/site-document.js';
import { formatFixed } from '../../core/numeric/format-fixed.js';
import type { GeographicPair, GridSystem } from '../../core/grid/grid-system.js';
import { carriedNames, renamedColumnNotes } from '../../io/carried-names.js';
import { readCsv } from '../../io/csv-read.js';
import type { GeojsonProperty } from '../../io/geojson-write.js';
import { readPlaceRows } from '../../io/place-rows-read.js';
import type { PlaceInput } from '../../io/place-rows-read.js';
import { DECIMALS } from '../../io/point-cells.js';
import { readSite } from '../../io/site-read.js';
import { openSource } from '../../io/source.js';
import type { Source } from '../../io/source.js';
import { wholeText } from '../../io/whole-text.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PlaceRow } from '../../records/place-row.js';
import { errorProblem, locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { createSiteApplier, SITE_COLUMNS, siteCells } from '../../tasks/apply-site.js';
import type { SiteResult } from '../../tasks/apply-site.js';
import { flagOption, textOption } from '../command-spec.js';
import { geojsonFrameProblem } from '../geojson-frame.js';
import { loadGridSystem } from '../../files/load-systems.js';
import { csvWriteOptions } from '../csv-write-options.js';
import { createRejects } from '../rejects.js';
import { writtenNames } from '../../files/written-names.js';
import { createRowWriter } from '../row-writer.js';
import type { RunLog } from '../run-log.js';
import { StopError } from '../stop.js';
import { notTrustedLine } from '../transform/not-trusted-line.js';
import { withoutPlaceLine } from '../without-place-line.js';
import { tableOptions } from '../table-options.js';
import type { TableOptions } from '../table-options.js';
import { ownPlaceCheck } from '../transform/own-place-check.js';
import type { RunEnd, Workbench } from '../workbench.js';
import { endWith, rowsAnswer } from '../run-end.js';

/** Options that name another change and do not go together with a site. */
const OTHERS = ['to', 'operation', 'shift', 'acceptDefaultShift', 'epoch', 'epochFrom', 'epochTo', 'plate', 'velocity', 'fromHeight', 'toHeight', 'geoid', 'geoidInterpolation', 'geoidFrame', 'groundAt', 'groundTolerance', 'topocentricAt'] as const;

/** `transform --site FILE`: points onto a fitted site, or back with --inverse. */
export async function transformOntoSite(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  const other = OTHERS.find((name) => invocation.options[name] !== undefined);
  if (other !== undefined) conflict(`--site and --${other.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)} exclude each other`, 'transform in two steps: first to the system of the site, then onto it');
  if (textOption(invocation, 'angles') === 'dms') conflict('--angles dms has nothing to write: a site has plane coordinates', 'leave it out');
  const path = textOption(invocation, 'site') ?? '';
  const siteSource = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: null }));
  const site = bench.take(readSite(bench.take(await wholeText(siteSource)), siteSource.name));
  log.input(siteSource, 'site', 0, 0);
  const from = textOption(invocation, 'from');
  if (from !== null && from !== site.system) {
    throw new StopError([errorProblem('system-mismatch', { message: `the site was fitted in ${site.system} ${site.systemName} and --from says ${from}`, received: from, expected: site.system, hint: 'transform the points to that system first; --from may be left out' })]);
  }
  const grid = bench.take(loadGridSystem(site.system));
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const back = flagOption(invocation, 'inverse');
  const extrapolate = flagOption(invocation, 'extrapolate');
  record(site, grid, back, extrapolate, log);
  const tables = bench.take(tableOptions(invocation, {}));
  const { source, kind, input } = await openRows(invocation.args[0] ?? '-', (back ? site.siteAxes : site.sourceAxes).columns, site, tables, bench);
  const sink = await bench.open(textOption(invocation, 'output') ?? '-');
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const own = ownColumns(site, back, input);
  const carried = carriedNames(writtenNames(bench.format, own), input.passThroughNames);
  diagnostics.report(renamedColumnNotes(carried));
  const columns = [...own, ...carried.names.map((name): GeojsonProperty => ({ name, kind: 'text' }))];
  const frame = { frame: grid.base.code ?? grid.base.name, epochYear: null, system: back ? site.system : `site fitted in ${site.system}` };
  const writer = createRowWriter(bench.format, columns, frame, csvWriteOptions(invocation));
  const compare = back ? null : bench.take(ownPlaceCheck(grid, true, tables.positionFrom));
  const apply = createSiteApplier(site, { direction: back ? 'from-site' : 'to-site', extrapolate });
  const place: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  let [count, bad, without, beyond, farthestM] = [0, 0, 0, 0, 0];
  await rejects.start(input.headerRaw);
  await sink.write(writer.begin());
  for await (const item of input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    diagnostics.report(block.warnings);
    for (const row of block.rejected) diagnostics.report(row.problems);
    await rejects.add(block.rejected);
    bad += block.rejected.length;
    without += block.withoutPlace;
    const written = [];
    for (const row of block.rows) {
      const other = compare === null ? null : block.otherPositionOf(row);
      const doubt = other === null || compare === null ? null : compare(row, other);
      const result = doubt === null ? apply({ first: row.first, second: row.second, heightM: heightOf(row, site) }) : failure(doubt);
      const where = kind === 'csv' ? { source: source.name, line: row.line, record: row.record } : { source: source.name, path: `features[${row.record - 1}]`, record: row.record };
      const problems: readonly Problem[] = result.problems.map((problem) => locateProblem({ ...problem, message: `${row.pointId}: ${problem.message}` }, where));
      diagnostics.report(problems);
      if (!result.ok) {
        await rejects.add([{ line: row.line, raw: block.rawOf(row), problems }]);
        bad += 1;
        continue;
      }
      count += 1;
      if (problems.length > 0) beyond += 1;
      farthestM = Math.max(farthestM, result.value.outsideM);
      const known = back ? grid.inverse(result.value.first, result.value.second, place) : grid.inverse(row.first, row.second, place);
      written.push({ cells: cellsOf(row, result.value, site, input), latitudeDeg: known === 'ok' ? place.latitudeDeg : null, longitudeDeg: known === 'ok' ? place.longitudeDeg : null, ellipsoidalHeightM: null });
    }
    if (written.length > 0) await sink.write(writer.rows(written));
    bench.progress.update(`${source.name}: ${count + bad} rows`);
  }
  log.input(source, kind, count + without, bad);
  if (bad > 0 && tables.onError === 'stop') throw new StopError([]);
  await sink.write(writer.end());
  diagnostics.say(`${count} ${count === 1 ? 'point' : 'points'} ${back ? `from the site back to ${site.system}` : `from ${site.system} onto the site`}`);
  if (beyond > 0) diagnostics.say(`${beyond} of them beyond the buffer of the site, up to ${formatFixed(farthestM, 1)} m outside its control: the sigma of the site stands beside each, and nothing checks it there`);
  if (site.transform.vertical === null && (input.hasOrthometric || input.hasEllipsoidal)) diagnostics.say('heights are unchanged: the site was fitted in plan only');
  const otherKind = site.heightKind === 'orthometric' ? 'ellipsoidal' : 'orthometric';
  if (site.heightKind !== null && (otherKind === 'ellipsoidal' ? input.hasEllipsoidal : input.hasOrthometric)) diagnostics.say(`${otherKind} heights are left out: the site was fitted with ${site.heightKind} ones`);
  if (input.leftOut.length > 0) diagnostics.say(`left out, because they belong to the system the points come from: ${input.leftOut.join(', ')}`);
  if (input.notTrusted.length > 0) diagnostics.say(notTrustedLine(input.notTrusted, 'the site'));
  if (without > 0) diagnostics.say(withoutPlaceLine(without));
  if (bad > 0) diagnostics.say(`${bad} rows with errors were left out on request`);
  return endWith(rowsAnswer(count, bad), invocation, log);
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
  return (['orthometric', 'ellipsoidal'] as const).filter((kind) => has[kind] && (site.heightKind === null || site.heightKind === kind));
}

function ownColumns(site: SiteDocument, back: boolean, input: PlaceInput): readonly GeojsonProperty[] {
  const numbers = [...(back ? site.sourceAxes : site.siteAxes).columns, ...heights(site, input).map((kind) => `${kind}_height_m`), ...SITE_COLUMNS];
  return [
    { name: 'point_id', kind: 'text' },
    ...numbers.map((name): GeojsonProperty => ({ name, kind: 'number' })),
  ];
}

function cellsOf(row: PlaceRow, result: SiteResult, site: SiteDocument, input: PlaceInput): readonly string[] {
  const m = (value: number | null): string => (value === null ? '' : formatFixed(value, DECIMALS.metres));
  const height = (kind: 'orthometric' | 'ellipsoidal'): string => m(site.heightKind === kind ? result.heightM : kind === 'orthometric' ? row.orthometricHeightM : row.ellipsoidalHeightM);
  return [row.pointId, m(result.first), m(result.second), ...heights(site, input).map(height), ...siteCells(result), ...row.passThrough];
}

interface OpenedRows {
  readonly source: Source;
  readonly kind: 'csv' | 'geojson';
  readonly input: PlaceInput;
}

async function openRows(path: string, axes: readonly [string, string], site: SiteDocument, tables: TableOptions, bench: Workbench): Promise<OpenedRows> {
  const { context } = bench;
  const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: tables.encoding }));
  const kind = ['.geojson', '.json'].includes(extname(path).toLowerCase()) ? 'geojson' : 'csv';
  const options = { kind: 'projected', axes, needs: null, trust: 'none', mapping: tables.mapping, beside: null, alsoLeftOut: [...SITE_COLUMNS, ...(kind === 'geojson' ? ['frame', 'frame_epoch_year', 'system'] : [])] } as const;
  const read = async (): Promise<Outcome<PlaceInput>> => {
    if (kind === 'csv') {
      const table = await readCsv(source, tables.dialect);
      return table.ok ? readPlaceRows(table.value, options) : table;
    }
    const { geojsonPlace, readGeojsonTable } = await import('../../io/geojson-table.js');
    const text = await wholeText(source);
    const table = text.ok ? readGeojsonTable(text.value, source.name, 'allowed') : text;
    return table.ok ? readPlaceRows(table.value, { ...options, place: geojsonPlace }) : table;
  };
  const input = bench.take(await read());
  bench.take(fittedHeight(site, input, source.name));
  return { source, kind, input };
}

/** A file with heights of the other kind only cannot get the heights of the site. */
function fittedHeight(site: SiteDocument, input: PlaceInput, source: string): Outcome<null> {
  const kind = site.heightKind;
  const [has, hasOther] = kind === 'orthometric' ? [input.hasOrthometric, input.hasEllipsoidal] : [input.hasEllipsoidal, input.hasOrthometric];
  if (kind === null || has || !hasOther) return success(null);
  return failure(
    errorProblem('csv-missing-column', { message: `the site was fitted with ${kind} heights and the file has none`, where: { source }, expected: `${kind}_height_m`, hint: `transform the heights first: transform --to-height ${kind} --geoid MODEL` }),
  );
}

function record(site: SiteDocument, grid: GridSystem, back: boolean, extrapolate: boolean, log: RunLog): void {
  log.model('system', { role: back ? 'to' : 'from', name: `${site.system} ${site.systemName}`, definition: grid.definition.proj4, sha256: null });
  if (site.geoid !== null) log.model('grid', { role: 'geoid of the site', name: site.geoid.name, definition: null, sha256: site.geoid.sha256 });
  log.method({ id: back ? 'site-inverse' : 'site', name: 'fitted similarity and height plane', source: { key: 'AITKEN-1935', locator: 'docs/methods/site-fit.md' } });
  log.setting('transform.inverse', back, back ? 'command line' : 'default');
  log.setting('transform.extrapolate', extrapolate, extrapolate ? 'command line' : 'default');
  log.setting('site.buffer_m', site.bufferM, 'default');
}
