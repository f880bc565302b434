import type { OutputFormat } from '../../../files/points/points-writer.js';
import type { CsvWriteOptions } from '../../../io/csv/csv-write.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { LinkReport } from '../../../records/corrections/link-report.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { RecordHead, WrittenRecord } from '../../outputs/record-writer.js';
import { formatByEnding } from '../../shell/run/side-tables.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import { AVAILABILITY_COLUMNS, OUTAGE_COLUMNS } from './say/link-columns.js';
import type { AvailabilityRow } from './say/link-columns.js';

/** Outages in one of the formats; of GeoJSON a place each. */
export function outagePieces(
  format: OutputFormat,
  link: LinkReport,
  head: RecordHead,
  csv: CsvWriteOptions,
): Iterable<string> {
  const cells = createCellTexts(OUTAGE_COLUMNS);
  const rows = link.outages.listed.map((outage): WrittenRecord => ({
    cells: cells(outage),
    geometry: { kind: 'point', place: outage, ellipsoidalHeightM: null },
  }));
  return recordPieces(format, cellColumns(OUTAGE_COLUMNS), rows, head, csv);
}

/** Hours, then cells; of GeoJSON the cells alone, as areas. */
function availabilityPieces(format: OutputFormat, link: LinkReport, csv: CsvWriteOptions): Iterable<string> {
  const cells = createCellTexts(AVAILABILITY_COLUMNS);
  const areas: readonly WrittenRecord[] = link.cells.listed.map((cell) => {
    const { southDeg, westDeg, northDeg, eastDeg } = cell;
    const corner = (latitudeDeg: number, longitudeDeg: number): { latitudeDeg: number; longitudeDeg: number } => ({
      latitudeDeg,
      longitudeDeg,
    });
    const ring = [
      corner(southDeg, westDeg),
      corner(southDeg, eastDeg),
      corner(northDeg, eastDeg),
      corner(northDeg, westDeg),
      corner(southDeg, westDeg),
    ];
    return { cells: cells(cell satisfies AvailabilityRow), geometry: { kind: 'areas', rings: [ring] } };
  });
  const hours: readonly WrittenRecord[] = link.hours.map((hour) => ({
    cells: cells(hour satisfies AvailabilityRow),
    geometry: { kind: 'lines', lines: [] },
  }));
  const head = { schema: 'pegbook-availability', list: 'availability', members: {}, summary: null };
  const rows = format === 'geojson' ? areas : [...hours, ...areas];
  return recordPieces(format, cellColumns(AVAILABILITY_COLUMNS), rows, head, csv);
}

/** Writes the files of --outages and --availability. */
export async function writeLinkTables(bench: Workbench, link: LinkReport): Promise<void> {
  const csv = csvWriteOptions(bench.invocation);
  const outages = textOption(bench.invocation, 'outages');
  if (outages !== null) {
    const head = { schema: 'pegbook-outages', list: 'outages', members: {}, summary: null };
    const sink = await bench.open(outages);
    for (const piece of outagePieces(formatByEnding(outages), link, head, csv)) await sink.write(piece);
  }
  const availability = textOption(bench.invocation, 'availability');
  if (availability === null) return;
  const sink = await bench.open(availability);
  for (const piece of availabilityPieces(formatByEnding(availability), link, csv)) await sink.write(piece);
}

/** Says which columns the tables of the link will have, before anything is read. */
export function sayLinkColumns(bench: Workbench): void {
  const namesOf = (columns: readonly { readonly name: string }[]): readonly string[] => columns.map(({ name }) => name);
  bench.columns(namesOf(OUTAGE_COLUMNS), 'outages');
  bench.columns(namesOf(AVAILABILITY_COLUMNS), 'availability');
}
