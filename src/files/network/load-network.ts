import { createSpan } from '../../core/observation/survey-span.js';
import type { SurveySpan } from '../../records/reports/parts/survey-span.js';
import type { Network } from '../../core/network/network.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { readCsv } from '../../io/csv/csv-read.js';
import type { CsvTable } from '../../io/csv/csv-read.js';
import { readLines } from '../../io/tables/network/lines-read.js';
import { readNetworkControl } from '../../io/tables/network/network-control-read.js';
import { readVectors } from '../../io/tables/network/vectors-read.js';
import type { ObservationPlace, Placed } from '../../records/network-rows.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { Problem } from '../../records/problem.js';
import { assembleNetwork } from '../../tasks/network/input/assemble-network.js';
import type { NetworkAssumptions, NetworkPlaces } from '../../tasks/network/input/assemble-network.js';
import type { NetworkSystems } from '../../tasks/network/input/network-input.js';
import { pointVectors } from '../../tasks/network/input/point-vectors.js';
import type { OccupationSession } from '../../tasks/network/input/point-vectors.js';
import type { NetworkBase } from '../../tasks/network/input/session-bases.js';
import type { OccupationVector } from '../../tasks/network/input/slow-errors.js';
import { axisNames, openPoints } from '../points/open-points.js';
import type { OpenedPoints, PointInputSettings } from '../points/open-points.js';
import type { Surroundings } from '../surroundings.js';

/** A points file with the place of its session in the list of sessions. */
export interface OccupationFile {
  readonly path: string;
  readonly session: number;
}

/** The files of a network. Paths start from the working folder. */
export interface NetworkFiles {
  /** Sessions with their days, and the points files that were reduced with them. */
  readonly sessions: readonly OccupationSession[];
  readonly points: readonly OccupationFile[];
  readonly vectors: string | null;
  readonly control: string | null;
  readonly levelled: string | null;
  readonly distances: string | null;
}

/** How the files are read, and who hears of them. */
export interface NetworkReading {
  readonly tables: PointInputSettings['tables'];
  /** Our names of the columns of the control file. */
  readonly controlColumns: PointInputSettings['tables']['mapping'];
  readonly assumed: NetworkAssumptions;
  readonly surroundings: Surroundings;
  /** The good rows of a points file, and how many were bad; `check` says whether a row that could be read is one. */
  readonly collect: (
    opened: OpenedPoints,
    check: (row: PointRow) => readonly Problem[],
  ) => Promise<{ readonly points: readonly PointRow[]; readonly rejected: number }>;
  /** A file was read to its end. */
  readonly onRead: (source: Source, kind: string, used: number, rejected: number) => void;
}

/** The network of some files, and where each part of it stands. */
export interface LoadedNetwork {
  readonly network: Network;
  readonly systems: NetworkSystems;
  readonly places: NetworkPlaces;
  readonly bases: readonly NetworkBase[];
  /** Occupations left out because the reduction rejected them. */
  readonly withoutPlace: number;
  readonly rejected: number;
  /** When the occupations were measured; null: none states its time. */
  readonly surveyed: SurveySpan | null;
}

/**
 * Reads everything that a network is made of.
 *
 * Given: the files, with the sessions of the points files loaded; what places are in; how they are read. Problems: those of each
 * file and of `assembleNetwork`.
 */
export async function loadNetwork(
  files: NetworkFiles,
  systems: NetworkSystems,
  reading: NetworkReading,
): Promise<Outcome<LoadedNetwork>> {
  const warnings: Problem[] = [];
  let rank = 0;
  const place = (source: string, line: number): ObservationPlace => ({ source, line, rank: (rank += 1) });
  const side = async <T extends { readonly place: { readonly line: number } }>(
    path: string | null,
    kind: string,
    read: (table: CsvTable) => Promise<Outcome<readonly T[]>>,
  ): Promise<Outcome<readonly Placed<T>[]>> => {
    if (path === null) return success([]);
    const source = await openSource(path, { ...reading.surroundings, encoding: null });
    if (!source.ok) return source;
    const table = await readCsv(source.value, reading.tables.dialect);
    const rows = table.ok ? await read(table.value) : table;
    if (!rows.ok) return rows;
    reading.onRead(source.value, kind, rows.value.length, 0);
    for (const problem of rows.problems) warnings.push(problem);
    return success(rows.value.map((value) => ({ value, place: place(source.value.name, value.place.line) })));
  };
  const vectors = await side(files.vectors, 'vectors', (table) => readVectors(table, 1, {}));
  const control = await side(files.control, 'control', (table) =>
    readNetworkControl(table, 2, reading.controlColumns, axisNames(systems.grid)),
  );
  const levelled = await side(files.levelled, 'levelled', (table) => readLines(table, 3, 'levelled'));
  const distances = await side(files.distances, 'distances', (table) => readLines(table, 4, 'distances'));
  const occupied = await readOccupations(files, reading, place);
  for (const one of [vectors, control, levelled, distances, occupied]) if (!one.ok) return one;
  if (!(vectors.ok && control.ok && levelled.ok && distances.ok && occupied.ok)) return failureOf(warnings);
  const { bases, withoutPlace, rejected, surveyed } = occupied.value;
  const assembled = assembleNetwork(
    {
      ...occupied.value,
      vectors: vectors.value,
      control: control.value,
      levelled: levelled.value,
      distances: distances.value,
    },
    systems,
    reading.assumed,
  );
  const problems = [...warnings, ...occupied.problems, ...assembled.problems];
  if (!assembled.ok) return failureOf(problems);
  const about = { systems, bases, withoutPlace, rejected, surveyed };
  return success({ ...assembled.value, ...about }, problems);
}

/** The occupations of the points files as vectors, with what they bring of their bases. */
interface Occupations extends Pick<LoadedNetwork, 'bases' | 'withoutPlace' | 'rejected' | 'surveyed'> {
  readonly occupations: readonly Placed<OccupationVector>[];
  readonly shared: ReturnType<ReturnType<typeof pointVectors>['shared']>;
}

async function readOccupations(
  { points, sessions }: NetworkFiles,
  { tables, surroundings, collect, onRead }: NetworkReading,
  place: (source: string, line: number) => ObservationPlace,
): Promise<Outcome<Occupations>> {
  const maker = pointVectors(sessions);
  const occupations: Placed<OccupationVector>[] = [];
  const span = createSpan();
  const warnings: Problem[] = [];
  let withoutPlace = 0;
  let rejected = 0;
  for (const [index, { path, session }] of points.entries()) {
    const grid = sessions[session]?.setup.grid ?? null;
    const opened = await openPoints(
      path,
      index,
      { tables, grid, needs: { position: 'any', height: 'none' }, areReduced: true },
      surroundings,
    );
    if (!opened.ok) return opened;
    for (const problem of opened.problems) warnings.push(problem);
    const made = new Map<PointRow, OccupationVector>();
    const collected = await collect(opened.value, (row) => {
      const vector = maker.of(row, session);
      if (vector.ok && vector.value !== null) made.set(row, vector.value);
      return vector.problems;
    });
    const { source } = opened.value;
    for (const row of collected.points) {
      const vector = made.get(row);
      if (vector === undefined) withoutPlace += 1;
      else {
        span.add(row);
        occupations.push({ value: vector, place: place(source.name, row.place.line) });
      }
    }
    rejected += collected.rejected;
    onRead(source, 'points', collected.points.length, collected.rejected);
  }
  const surveyed = span.result();
  return success(
    { occupations, shared: maker.shared(), bases: maker.bases, withoutPlace, rejected, surveyed },
    warnings,
  );
}
