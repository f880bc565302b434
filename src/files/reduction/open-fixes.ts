import { extname } from 'node:path';
import { readCsv } from '../../io/csv/csv-read.js';
import { readFixes } from '../../io/tables/fixes/fixes-read.js';
import type { FixPlaces } from '../../io/tables/fixes/fix-row.js';
import type { FixInput } from '../../io/tables/fixes/fixes-read.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import type { NmeaReadOptions } from '../../io/nmea/nmea-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { ReferencePoint } from '../../records/points/point.js';
import type { Surroundings } from '../surroundings.js';
import type { TableReading } from '../tables/table-reading.js';

export type FixInputKind = 'csv' | 'nmea' | 'geojson';

/** What every input of fixes is read with. */
export interface FixInputSettings {
  readonly tables: TableReading;
  readonly kind: FixInputKind | null;
  readonly places: FixPlaces;
  /** The session's word; a log's positions are the antenna phase centre's where it gives none. */
  readonly referencePoint: ReferencePoint | null;
  /** What logs are read with. */
  readonly log: Omit<NmeaReadOptions, 'sourceIndex' | 'referencePoint'>;
}

/** A log read without settings of its own: every talker, one point a file, no base to join its stations with. */
export const PLAIN_LOG: FixInputSettings['log'] = { occupations: null, talker: null, baseIds: [], spans: [] };

/** An opened input: its fixes, and its source for the digest. */
export interface OpenedFixes {
  readonly source: Source;
  readonly kind: FixInputKind;
  readonly input: FixInput;
}

/** The kind of an input: as stated, else by extension, else CSV. */
export function inputKind(path: string, stated: FixInputKind | null): FixInputKind {
  if (stated !== null) return stated;
  switch (extname(path).toLowerCase()) {
    case '.nmea':
      return 'nmea';
    case '.geojson':
    case '.json':
      return 'geojson';
    default:
      return 'csv';
  }
}

/** Opens one input of fixes. */
export async function openFixes(
  path: string,
  sourceIndex: number,
  settings: FixInputSettings,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<OpenedFixes>> {
  const kind = inputKind(path, settings.kind);
  // A log may hold binary frames between its sentences.
  const opened = await openSource(path, { cwd, stdin, encoding: settings.tables.encoding, anyBytes: kind === 'nmea' });
  if (!opened.ok) return opened;
  const source = opened.value;
  const { mapping, solution = null } = settings.tables;
  const options = { sourceIndex, mapping, solution, ...settings.places };
  const input = await inputOf(source, kind, settings, options);
  if (!input.ok) {
    await source.close();
    return input;
  }
  return success({ source, kind, input: input.value }, input.problems);
}

async function inputOf(
  source: Source,
  kind: FixInputKind,
  settings: FixInputSettings,
  options: Parameters<typeof readFixes>[1],
): Promise<Outcome<FixInput>> {
  switch (kind) {
    case 'nmea': {
      const { readNmea } = await import('../../io/nmea/nmea-read.js');
      return success(
        readNmea(source, {
          ...settings.log,
          sourceIndex: options.sourceIndex,
          referencePoint: settings.referencePoint ?? 'apc',
        }),
      );
    }
    case 'geojson': {
      const { readGeojsonFixes } = await import('../../io/geojson/geojson-read.js');
      return readGeojsonFixes(source, options);
    }
    case 'csv': {
      const table = await readCsv(source, settings.tables.dialect);
      return table.ok ? readFixes(table.value, options) : table;
    }
  }
}
