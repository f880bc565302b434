import { extname, resolve } from 'node:path';
import { geocentricToGeodetic } from '../core/geodesy/geocentric.js';
import type { Ellipsoid } from '../core/geodesy/ellipsoid.js';
import { readCsv } from '../io/csv-read.js';
import { DEFAULT_DIALECT } from '../io/csv-dialect.js';
import { readFixes } from '../io/fixes-read.js';
import type { FixInput } from '../io/fixes-read.js';
import { openSource } from '../io/source.js';
import type { Source } from '../io/source.js';
import type { OccupationInterval } from '../io/occupations-read.js';
import type { NmeaReadOptions } from '../io/nmea-read.js';
import { readOccupations } from '../io/occupations-read.js';
import { success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { warningProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { ReferencePoint } from '../records/point.js';
import { textOption } from './command-spec.js';
import type { Invocation } from './command-spec.js';
import type { Context } from './context.js';
import type { TableOptions } from './table-options.js';

export type FixInputKind = 'csv' | 'nmea' | 'geojson';

/** What every input of fixes is read with. */
export interface FixInputSettings {
  readonly tables: TableOptions;
  readonly kind: FixInputKind | null;
  readonly ellipsoid: Ellipsoid;
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
export async function openFixes(path: string, sourceIndex: number, settings: FixInputSettings, context: Context): Promise<Outcome<OpenedFixes>> {
  const kind = inputKind(path, settings.kind);
  // A log may hold binary frames between its sentences.
  const opened = await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: settings.tables.encoding, anyBytes: kind === 'nmea' });
  if (!opened.ok) return opened;
  const source = opened.value;
  const { ellipsoid } = settings;
  const options = { sourceIndex, mapping: settings.tables.mapping, toGeodetic: (point: Parameters<typeof geocentricToGeodetic>[0]) => geocentricToGeodetic(point, ellipsoid) };
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
      const { readNmea } = await import('../io/nmea-read.js');
      return success(readNmea(source, { ...settings.log, sourceIndex: options.sourceIndex, referencePoint: settings.referencePoint ?? 'apc' }));
    }
    case 'geojson': {
      const { readGeojsonFixes } = await import('../io/geojson-read.js');
      return readGeojsonFixes(source, options);
    }
    case 'csv': {
      const table = await readCsv(source, settings.tables.dialect);
      return table.ok ? readFixes(table.value, options) : table;
    }
  }
}

/** The sidecar of occupation names, or null where --occupations is not given. */
export async function openOccupations(invocation: Invocation, context: Context): Promise<Outcome<{ readonly intervals: readonly OccupationInterval[]; readonly source: Source } | null>> {
  const path = textOption(invocation, 'occupations');
  if (path === null) return success(null);
  const opened = await openSource(path, { cwd: context.cwd, stdin: context.stdin });
  if (!opened.ok) return opened;
  const table = await readCsv(opened.value, DEFAULT_DIALECT);
  if (!table.ok) return table;
  const intervals = await readOccupations(table.value);
  return intervals.ok ? success({ intervals: intervals.value, source: opened.value }, intervals.problems) : intervals;
}

/** Warnings for options that hold only where a row gives no value of its own, and rows may. */
export function overruledOptions({ source, input }: OpenedFixes, invocation: Invocation): readonly Problem[] {
  const pairs = [['pole_length_m', '--pole-length', 'poleLength'], ['reference_point', '--reference-point', 'referencePoint']] as const;
  return pairs.flatMap(([column, flag, name]) =>
    invocation.options[name] === undefined || !input.has(column)
      ? []
      : [warningProblem('usage-overruled', { message: `the rows have a ${column} of their own, and it counts before ${flag}`, where: { source: source.name }, hint: `${flag} holds only where that cell is empty; to put it in place of the rows' word, take the column out` })],
  );
}

/** Absolute paths of the inputs, for the check that no output is one of them. */
export function inputPaths(paths: readonly string[], cwd: string): readonly string[] {
  return paths.filter((path) => path !== '-').map((path) => resolve(cwd, path));
}
