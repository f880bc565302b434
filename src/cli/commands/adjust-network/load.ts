import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import type { ControlPoint, Network, VectorObservation } from '../../../core/network/network.js';
import { networkStations } from '../../../core/network/network-stations.js';
import { axisNames } from '../../../files/points/open-points.js';
import { openSource } from '../../../io/bytes/source.js';
import type { CsvDialect } from '../../../io/csv/csv-dialect.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import { readLines } from '../../../io/tables/network/lines-read.js';
import { readNetworkControl } from '../../../io/tables/network/network-control-read.js';
import { readVectors } from '../../../io/tables/network/vectors-read.js';
import type { LineRow, NetworkControlRow } from '../../../records/network-rows.js';
import type { Outcome } from '../../../records/outcome.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem, locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { controlOf, networkOf, vectorsOf } from '../../../tasks/network/network-input.js';
import type { NetworkSystems } from '../../../tasks/network/network-input.js';
import { tableOptions } from '../../inputs/table-options.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { loadOccupations } from './load-occupations.js';
import type { ObservationPlace, Placed } from './load-occupations.js';
import { loadSystems } from './load-systems.js';

/** The network of a run, and where each part of it stands. */
export interface LoadedNetwork {
  readonly network: Network;
  readonly systems: NetworkSystems;
  readonly places: Readonly<Record<'vector' | 'levelled' | 'distance', readonly ObservationPlace[]>>;
  /** Occupations left out because the reduction rejected them. */
  readonly withoutPlace: number;
  readonly rejected: number;
}

/** Tables beside the points are plain CSV: their form is ours. */
const PLAIN: CsvDialect = { delimiter: ',', comment: null, skipLines: 0, hasHeader: true, decimalComma: false };

/** Centring and antenna height of a set-up, one sigma in metres, where nothing else is said. From memory. */
const SETUP_SIGMAS = { horizontalM: 0.0015, verticalM: 0.002 } as const;

/** Reads everything that a network is made of. Problems stop the run once everything is read. */
export async function loadNetwork(bench: Workbench, log: RunLog): Promise<LoadedNetwork> {
  const { invocation } = bench;
  let rank = 0;
  const placed = <T extends { readonly place: { readonly line: number } }>(
    source: string,
    rows: readonly T[],
  ): readonly Placed<T>[] =>
    rows.map((value) => ({ value, place: { source, line: value.place.line, rank: (rank += 1) } }));
  const { systems, session } = await loadSystems(bench, log);
  const side = async <T extends { readonly place: { readonly line: number } }>(
    option: 'vectors' | 'control' | 'levelled' | 'distances',
    read: (table: CsvTable) => Promise<Outcome<readonly T[]>>,
  ): Promise<readonly Placed<T>[]> => {
    const path = textOption(invocation, option);
    if (path === null) return [];
    const { context } = bench;
    const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: null }));
    const rows = bench.take(await read(bench.take(await readCsv(source, PLAIN))));
    log.input(source, option, rows.length, 0);
    return placed(source.name, rows);
  };
  const vectorRows = await side('vectors', (table) => readVectors(table, 1, {}));
  const controlMap = bench.take(tableOptions(controlInvocation(invocation), null)).mapping;
  const controlRows = await side('control', (table) =>
    readNetworkControl(table, 2, controlMap, axisNames(systems.grid)),
  );
  const levelled = sortedLines(await side('levelled', (table) => readLines(table, 3, 'levelled')));
  const distances = sortedLines(await side('distances', (table) => readLines(table, 4, 'distances')));
  const occupied = await loadOccupations(bench, log, session, (source, line) => ({ source, line, rank: (rank += 1) }));
  const setup = setupSigmas(bench);
  const file = vectorsOf(
    vectorRows.map(({ value }) => value),
    setup,
  );
  const vectors = sortedVectors([
    ...file.vectors.map((value, index) => ({ value, place: vectorRows[index]!.place })),
    ...occupied.vectors,
  ]);
  if (vectors.length + levelled.length + distances.length === 0) bench.take(failure(nothingObserved()));
  const { control, geoidHeightM } = controlPoints(bench, systems, controlRows, occupied.control);
  const network = networkOf(
    {
      vectors: vectors.map(({ value }) => value),
      shared: [...file.shared, ...occupied.shared],
      levelled: levelled.map(({ value }) => value),
      distances: distances.map(({ value }) => value),
      control,
      geoidHeightM,
    },
    systems,
  );
  addGeoidHeights(network, geoidHeightM, systems, bench);
  return {
    network,
    systems,
    places: { vector: vectors.map(placeOf), levelled: levelled.map(placeOf), distance: distances.map(placeOf) },
    withoutPlace: occupied.withoutPlace,
    rejected: occupied.rejected,
  };
}

/** Sigmas of setting up, from the options. */
function setupSigmas(bench: Workbench): { readonly horizontalM: number; readonly verticalM: number } {
  const { invocation } = bench;
  const setup = {
    horizontalM: numberOption(invocation, 'setupSigmaHorizontal') ?? SETUP_SIGMAS.horizontalM,
    verticalM: numberOption(invocation, 'setupSigmaVertical') ?? SETUP_SIGMAS.verticalM,
  };
  if (!(setup.horizontalM > 0 && setup.verticalM > 0 && setup.horizontalM < 10 && setup.verticalM < 10))
    bench.take(
      failure(errorProblem('usage-invalid', { message: 'the sigmas of a set-up are above 0 and below 10 metres' })),
    );
  return setup;
}

const placeOf = ({ place }: Placed<unknown>): ObservationPlace => place;

function nothingObserved(): Problem {
  return errorProblem('usage-invalid', {
    message: 'nothing is observed',
    hint: 'give points files with --session, --vectors, --levelled or --distances',
  });
}

/** The control of its file, and of the session what the file does not name; with the geoid heights used. */
function controlPoints(
  bench: Workbench,
  systems: NetworkSystems,
  controlRows: readonly Placed<NetworkControlRow>[],
  known: readonly NetworkControlRow[],
): { readonly control: readonly ControlPoint[]; readonly geoidHeightM: Map<string, number> } {
  const rows = [
    ...controlRows,
    ...known
      .filter(({ pointId }) => !controlRows.some(({ value }) => value.pointId === pointId))
      .map((value) => ({ value, place: null })),
  ].sort((a, b) => (a.value.pointId < b.value.pointId ? -1 : 1));
  const geoidHeightM = new Map<string, number>();
  const control = rows.flatMap(({ value, place }) => {
    const made = controlOf(value, systems);
    bench.diagnostics.report(
      made.problems.map((problem) => (place === null ? problem : locateProblem(problem, place))),
    );
    if (!made.ok) return [];
    if (made.value.geoidHeightM !== null) geoidHeightM.set(value.pointId, made.value.geoidHeightM);
    return [made.value.point];
  });
  return { control, geoidHeightM };
}

/** The options of the control file: its own columns, and always a header. */
function controlInvocation({ options, ...rest }: Invocation): Invocation {
  const { controlColumns, ...others } = options;
  const { rejects: _rejects, header: _header, columns: _columns, ...kept } = others;
  return { ...rest, options: controlColumns === undefined ? kept : { ...kept, columns: controlColumns } };
}

/** Sorted by what they say, so that the order of the input changes no digit. */
function sortedVectors(list: readonly Placed<VectorObservation>[]): readonly Placed<VectorObservation>[] {
  return sorted(
    list,
    ({ fromId, toId, difference }) => [fromId, toId, difference.xM, difference.yM, difference.zM],
    ({ covariance, shared }) => JSON.stringify([covariance, shared]),
  );
}

function sortedLines(list: readonly Placed<LineRow>[]): readonly Placed<LineRow>[] {
  return sorted(
    list,
    ({ fromId, toId, valueM, sigmaM }) => [fromId, toId, valueM, sigmaM],
    ({ fromUpM, toUpM }) => `${fromUpM} ${toUpM}`,
  );
}

/** By keys, and where they are all the same by what else is said of the two. */
function sorted<T>(
  list: readonly Placed<T>[],
  keyOf: (value: T) => readonly (string | number)[],
  restOf: (value: T) => string,
): readonly Placed<T>[] {
  return [...list].sort((a, b) => {
    const [first, second] = [keyOf(a.value), keyOf(b.value)];
    for (let k = 0; k < first.length; k += 1) {
      if (first[k]! < second[k]!) return -1;
      if (first[k]! > second[k]!) return 1;
    }
    const [left, right] = [restOf(a.value), restOf(b.value)];
    return left < right ? -1 : left > right ? 1 : 0;
  });
}

/** Geoid heights of stations with a place that levelling or an orthometric height meets. */
function addGeoidHeights(
  network: Network,
  heights: Map<string, number>,
  systems: NetworkSystems,
  bench: Workbench,
): void {
  const meeting = new Set([
    ...network.levelled.flatMap(({ fromId, toId }) => [fromId, toId]),
    ...network.control.flatMap(({ id, position }) => (position === null ? [id] : [])),
  ]);
  if (meeting.size === 0) return;
  const list = networkStations(network, false);
  if ('loose' in list) return;
  for (const { id, place } of list.stations) {
    if (place === null || !meeting.has(id)) continue;
    const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(place.position, systems.ellipsoid);
    const { geoid } = systems;
    const n = geoid === null ? null : geoid.heightAt(latitudeDeg, longitudeDeg);
    if (n !== null) heights.set(id, n);
    else if (geoid !== null) bench.diagnostics.report([geoidProblem('outside', latitudeDeg, longitudeDeg, geoid.grid)]);
    else
      bench.diagnostics.report([
        errorProblem('config-missing', {
          message: `levelling or an orthometric height meets ${id}, whose place is of the ellipsoid, and there is no geoid`,
          hint: 'give --geoid, and --system where there is no session',
        }),
      ]);
  }
}
