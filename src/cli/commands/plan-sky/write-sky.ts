import type { OutputFormat } from '../../../files/points/points-writer.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import type { Sink } from '../../../io/bytes/output/sink.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { Column } from '../../../io/tables/columns/column.js';
import type { SiteSky, SkySite } from '../../../records/sky/site-sky.js';
import type { SkyRun } from '../../../tasks/sky/run-sky.js';
import type { SkySetup } from '../../../tasks/sky/sky-setup.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { RecordHead, WrittenRecord } from '../../outputs/record-writer.js';
import { formatByEnding } from '../../shell/run/side-tables.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import type { PlannedSky } from './planned-sky.js';
import { SKY_COLUMNS } from './say/sky-columns.js';
import { SITE_COLUMNS } from './say/sky-site-columns.js';
import { TRACK_COLUMNS } from './say/track-columns.js';
import { WINDOW_COLUMNS } from './say/window-columns.js';
import { skyWhole } from './say/sky-json.js';

/** The outputs of a sky while it is planned. */
export interface SkyOutputs {
  /** Takes a site: its windows and tracks are written at once. */
  readonly add: (sky: SiteSky) => Promise<void>;
  /** Writes the table of --output, which may say what holds for all sites first. */
  readonly end: (planned: PlannedSky) => Promise<void>;
}

/** Says which columns the tables will have, before anything is read. */
export function saySkyColumns(bench: Workbench): void {
  const namesOf = (columns: readonly { readonly name: string }[]): readonly string[] => columns.map(({ name }) => name);
  bench.columns(namesOf(bench.format === 'geojson' ? SITE_COLUMNS : SKY_COLUMNS));
  bench.columns(namesOf(WINDOW_COLUMNS), 'windows');
  bench.columns(namesOf(TRACK_COLUMNS), 'tracks');
}

/** Opens the table of --output and those of --windows and --tracks. */
export async function openSkyOutputs(bench: Workbench, setup: SkySetup, run: SkyRun): Promise<SkyOutputs> {
  const output = await bench.open(textOption(bench.invocation, 'output') ?? '-');
  const windows = await sideTable(bench, 'windows', WINDOW_COLUMNS);
  const tracks = await sideTable(bench, 'tracks', TRACK_COLUMNS);
  return {
    async add(sky) {
      const pointId = sky.site.id;
      await windows?.add(
        sky.windows.map((window) => ({ pointId, window })),
        sky.site,
      );
      if (tracks === null) return;
      const sights = run.sightsFrom(sky.site);
      await tracks.add(
        sights.map((sight) => ({ pointId, sight })),
        sky.site,
      );
    },
    async end(planned) {
      await windows?.end();
      await tracks?.end();
      for (const piece of tablePieces(bench, planned, setup)) await output.write(piece);
    },
  };
}

function tablePieces(bench: Workbench, planned: PlannedSky, { base }: SkySetup): Iterable<string> {
  const { skies, answer } = planned;
  const head = { schema: 'pegbook-sky', members: {}, summary: answerJson(answer), whole: skyWhole(planned) };
  const csv = csvWriteOptions(bench.invocation);
  if (bench.format === 'geojson') {
    const cells = createCellTexts(SITE_COLUMNS);
    const rows = skies.map((sky) => ({ cells: cells(sky), geometry: placeOf(sky.site) }));
    return recordPieces('geojson', cellColumns(SITE_COLUMNS), rows, { ...head, list: 'sites' }, csv);
  }
  return recordPieces(bench.format, cellColumns(SKY_COLUMNS), rowsOf(skies, base), { ...head, list: 'epochs' }, csv);
}

function* rowsOf(skies: readonly SiteSky[], base: SkySite | null): Generator<WrittenRecord> {
  const cells = createCellTexts(SKY_COLUMNS);
  for (const { site, epochs } of skies)
    for (const epoch of epochs)
      yield { cells: cells({ pointId: site.id, baseId: base?.id ?? null, epoch }), geometry: placeOf(site) };
}

function placeOf(site: SkySite): WrittenRecord['geometry'] {
  return { kind: 'point', place: site, ellipsoidalHeightM: site.ellipsoidalHeightM };
}

interface OpenTable<Row> {
  readonly add: (rows: readonly Row[], site: SkySite) => Promise<void>;
  readonly end: () => Promise<void>;
}

/** A table of an option of its own, site by site; null: not asked for. */
async function sideTable<Row>(
  bench: Workbench,
  option: 'windows' | 'tracks',
  columns: readonly Column<never, Row>[],
): Promise<OpenTable<Row> | null> {
  const path = textOption(bench.invocation, option);
  if (path === null) return null;
  const sink: Sink = await bench.open(path);
  const format: OutputFormat = formatByEnding(path);
  const cells = createCellTexts(columns);
  const head: RecordHead = { schema: `pegbook-sky-${option}`, list: option, members: {}, summary: null };
  const rows: WrittenRecord[] = [];
  return {
    add(added, site) {
      for (const row of added) rows.push({ cells: cells(row), geometry: placeOf(site) });
      return Promise.resolve();
    },
    async end() {
      for (const piece of recordPieces(format, cellColumns(columns), rows, head, csvWriteOptions(bench.invocation)))
        await sink.write(piece);
    },
  };
}
