import type { SharedError, VectorObservation } from '../../../core/network/network.js';
import { openPoints } from '../../../files/points/open-points.js';
import type { NetworkControlRow } from '../../../records/network-rows.js';
import { failure } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem } from '../../../records/problem.js';
import { pointVectors } from '../../../tasks/network/point-vectors.js';
import { collectPoints } from '../../inputs/collect-points.js';
import { tableOptions } from '../../inputs/table-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { LoadedSystems } from './load-systems.js';

/** Where an observation stands. */
export interface ObservationPlace {
  readonly source: string;
  readonly line: number;
  /** Rank among everything read, for output in the order of the input. */
  readonly rank: number;
}

/** Something read, and where it stands. */
export interface Placed<T> {
  readonly value: T;
  readonly place: ObservationPlace;
}

/** The occupations of points files as vectors, with what they bring of their bases. */
export interface Occupations {
  readonly vectors: readonly Placed<VectorObservation>[];
  readonly shared: readonly SharedError[];
  readonly control: readonly NetworkControlRow[];
  readonly withoutPlace: number;
  readonly rejected: number;
}

/** Reads the points files of a run. Problems stop the run once a file is read. */
export async function loadOccupations(
  bench: Workbench,
  log: RunLog,
  session: LoadedSystems['session'],
  placeAt: (source: string, line: number) => ObservationPlace,
): Promise<Occupations> {
  const { invocation, context } = bench;
  if (invocation.args.length === 0) return { vectors: [], shared: [], control: [], withoutPlace: 0, rejected: 0 };
  if (session === null)
    return bench.take(
      failure(
        errorProblem('config-missing', {
          message: 'points need the session that describes their bases',
          hint: 'give --session FILE, the one they were reduced with',
        }),
      ),
    );
  const tables = bench.take(tableOptions(invocation, null));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const maker = pointVectors(session);
  const vectors: Placed<VectorObservation>[] = [];
  let withoutPlace = 0;
  let rejected = 0;
  for (const [index, path] of invocation.args.entries()) {
    const opened = bench.take(
      await openPoints(
        path,
        index,
        { tables, grid: session.grid, needs: { position: 'any', height: 'none' } },
        context,
      ),
    );
    const made = new Map<PointRow, VectorObservation>();
    const collected = await collectPoints(opened, bench, tables.onError, rejects, (row) => {
      const vector = maker.of(row);
      if (!vector.ok) return vector.problems;
      if (vector.value !== null) made.set(row, vector.value);
      return vector.problems;
    });
    for (const row of collected.points) {
      const vector = made.get(row);
      if (vector === undefined) withoutPlace += 1;
      else vectors.push({ value: vector, place: placeAt(opened.source.name, row.place.line) });
    }
    rejected += collected.rejected;
    log.input(opened.source, 'points', collected.points.length, collected.rejected);
  }
  return { vectors, shared: maker.shared(), control: maker.control, withoutPlace, rejected };
}
