import { extname } from 'node:path';
import type { OutputFormat } from '../../../files/points/points-writer.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { siteText } from '../../../io/documents/site/site-write.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { SiteRun } from '../../../tasks/site/run-site.js';
import type { SignalOrigin } from '../../../tasks/site/surface/surface-fit.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordsText } from '../../outputs/record-writer.js';
import type { WrittenRecord } from '../../outputs/record-writer.js';
import { isGiven, textOption } from '../../shell/command-spec.js';
import type { Invocation, OptionName } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { residualColumns } from './site-columns.js';

/** `json` is the site itself; the others are tables of its residuals. */
export function siteFormat(invocation: Invocation): OutputFormat {
  const given = textOption(invocation, 'format');
  if (given !== null) return given;
  // Standard output has no extension.
  const extension = extname(textOption(invocation, 'output') ?? '').toLowerCase();
  return extension === '.json' ? 'json' : extension === '.geojson' ? 'geojson' : 'csv';
}

/** A file of parameters outlives what was said of them: where nothing may be concluded none is written. */
export function isWithheld({ said }: SiteRun, format: OutputFormat): boolean {
  return said.isUnusable && format === 'json';
}

/** Says which columns the tables of residuals will have. */
export function sayColumns(siteAxes: SiteRun['siteAxes'], format: OutputFormat, bench: Workbench): void {
  const names = cellColumns(residualColumns(siteAxes)).map(({ name }) => name);
  if (format === 'csv') bench.columns(names);
  bench.columns(names, 'residuals');
}

/** Writes the site or its residuals, and the residuals beside it where they are asked for. */
export async function writeSite(run: SiteRun, frame: string, format: OutputFormat, bench: Workbench): Promise<void> {
  const { invocation } = bench;
  const columns = residualColumns(run.siteAxes);
  const cellsOf = createCellTexts(columns);
  const rows = run.judged.rows.map((row): WrittenRecord => ({
    cells: cellsOf(row),
    geometry: { kind: 'point', place: row, ellipsoidalHeightM: null },
  }));
  const head = {
    schema: 'pegbook-site-residuals',
    list: 'residuals',
    members: { system: run.site.system, frame },
    // In JSON the site itself is written, and its residuals stand in it.
    summary: null,
  };
  const table = (kind: Exclude<OutputFormat, 'json'>): string =>
    recordsText(kind, cellColumns(columns), rows, head, csvWriteOptions(invocation));
  const isOnlyExplained = isGiven(invocation, 'explain') && textOption(invocation, 'output') === null;
  if (!isWithheld(run, format) && !isOnlyExplained) {
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    await sink.write(format === 'json' ? siteText(run.site, answerJson(run.answer)) : table(format));
  }
  const residualsPath = textOption(invocation, 'residuals');
  if (residualsPath !== null) await (await bench.open(residualsPath)).write(table('csv'));
}

/** Notes in the record of the run how the site was fitted. */
export function recordSite({ fitted, vertical, site }: SiteRun, invocation: Invocation, log: RunLog): void {
  const from = (name: OptionName): 'command line' | 'default' =>
    isGiven(invocation, name) ? 'command line' : 'default';
  const { scaleIsFree, similarity } = fitted.horizontal;
  log.setting('site.scale', scaleIsFree ? 'free' : similarity.scale, from('scale'));
  log.setting('site.vertical', vertical, from('vertical'));
  log.setting('site.buffer_m', site.bufferM, from('buffer'));
  log.method({
    id: 'fit-site',
    name: 'weighted least-squares similarity and height plane',
    source: { key: 'AITKEN-1935', locator: 'docs/methods/site-fit.md' },
  });
  if (fitted.vertical?.kind !== 'surface') return;
  const { surface, signalOrigin, trendIsStated } = fitted.vertical;
  const { signal } = surface;
  const origin = (own: SignalOrigin): 'command line' | 'default' => (own === 'stated' ? 'command line' : 'default');
  log.setting('site.trend', surface.trend, trendIsStated ? 'command line' : 'default');
  log.setting('site.signal', signal.kind, from('signal'));
  log.setting('site.signal_sigma_m', signal.sigmaM, origin(signalOrigin.sigma));
  log.setting('site.signal_length_m', signal.lengthM, origin(signalOrigin.length));
  log.method({
    id: 'height-surface',
    name: 'least-squares collocation of heights',
    source: { key: 'MORITZ-1980', locator: 'docs/methods/height-surface.md' },
  });
}
