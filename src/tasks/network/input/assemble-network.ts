import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import type { ControlPoint, Network, SharedError, VectorObservation } from '../../../core/network/network.js';
import { networkStations } from '../../../core/network/stations/network-stations.js';
import type { LineRow, NetworkControlRow, ObservationPlace, Placed, VectorRow } from '../../../records/network-rows.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { errorProblem, locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { PositionChoice } from '../../join/one-position.js';
import { NEW_SETUP } from '../../repeats/set-up-identity.js';
import { controlOf } from './control-input.js';
import { controlNamesDoubted } from './control-names.js';
import { copiedLines } from './copied-lines.js';
import { withoutCopies } from './copied-vectors.js';
import { networkOf, vectorsOf } from './network-input.js';
import type { NetworkSystems, SetupSigmas } from './network-input.js';
import { knownBases } from './session-bases.js';
import type { NetworkBase } from './session-bases.js';
import { withSlowErrors } from './slow-errors.js';
import type { OccupationVector } from './slow-errors.js';

/** Everything read for a network, each with its place. */
export interface NetworkRows {
  readonly vectors: readonly Placed<VectorRow>[];
  readonly levelled: readonly Placed<LineRow>[];
  readonly distances: readonly Placed<LineRow>[];
  readonly control: readonly Placed<NetworkControlRow>[];
  readonly occupations: readonly Placed<OccupationVector>[];
  /** What the occupations share, and the bases of their sessions. */
  readonly shared: readonly SharedError[];
  readonly bases: readonly NetworkBase[];
}

/** What is assumed where no file says it. */
export interface NetworkAssumptions {
  /** Of a set-up of a station that no session describes; null: those of a session count, or the usual ones. */
  readonly setup: { readonly horizontalM: number | null; readonly verticalM: number | null };
  readonly geoidTiltSigmaMPerKm: number;
  /** Which position of a control row counts where it has two. */
  readonly positionFrom: PositionChoice;
}

/** Where each observation of a network stands, in the order of its lists. */
export type NetworkPlaces = Readonly<Record<'vector' | 'levelled' | 'distance', readonly ObservationPlace[]>>;

/**
 * One network of everything read; sorted, so that the order of files and rows changes no digit.
 *
 * Problems: usage-invalid where nothing is observed; those of `controlOf`; config-missing and those of the geoid where levelling or
 * an orthometric height meets a place.
 */
export function assembleNetwork(
  rows: NetworkRows,
  systems: NetworkSystems,
  assumed: NetworkAssumptions,
): Outcome<{ readonly network: Network; readonly places: NetworkPlaces }> {
  const file = vectorsOf(
    rows.vectors.map(({ value }) => value),
    setupsOf(rows.bases, assumed),
  );
  const occupied = withSlowErrors(rows.occupations.map(({ value }) => value));
  const { vectors, problems: copies } = withoutCopies(
    sortedVectors([
      ...file.vectors.map((value, index) => ({ value, place: entryAt(rows.vectors, index).place })),
      ...occupied.vectors.map((value, index) => ({ value, place: entryAt(rows.occupations, index).place })),
    ]),
  );
  const { lines: levelled, problems: levelledCopies } = copiedLines(sortedLines(rows.levelled), 'levelled difference');
  const { lines: distances, problems: distanceCopies } = copiedLines(sortedLines(rows.distances), 'distance');
  if (vectors.length + levelled.length + distances.length === 0) return failure(nothingObserved());
  const controlled = controlPoints(rows.control, knownBases(rows.bases), systems, assumed.positionFrom);
  const network = networkOf(
    {
      vectors: vectors.map(({ value }) => value),
      shared: [...file.shared, ...rows.shared, ...occupied.shared],
      levelled: levelled.map(({ value }) => value),
      distances: distances.map(({ value }) => value),
      control: controlled.control,
      geoidHeightM: controlled.geoidHeightM,
      geoidTiltSigmaMPerKm: assumed.geoidTiltSigmaMPerKm,
    },
    systems,
  );
  const problems = [
    ...copies,
    ...levelledCopies,
    ...distanceCopies,
    ...controlNamesDoubted(rows.control, network),
    ...controlled.problems,
    ...addGeoidHeights(network, controlled.geoidHeightM, systems),
  ];
  if (problems.some(({ severity }) => severity === 'error')) return failureOf(problems);
  const placeOf = ({ place }: Placed<unknown>): ObservationPlace => place;
  return success(
    {
      network,
      places: { vector: vectors.map(placeOf), levelled: levelled.map(placeOf), distance: distances.map(placeOf) },
    },
    problems,
  );
}

/** What is stated for all counts first, then what a session says of the base, then what is usual. */
function setupsOf(bases: readonly NetworkBase[], { setup }: NetworkAssumptions): (fromId: string) => SetupSigmas {
  const ofStation = new Map<string, SetupSigmas>();
  for (const { stationId, shared } of bases)
    if (!ofStation.has(stationId) && shared.horizontalM > 0 && shared.verticalM > 0) ofStation.set(stationId, shared);
  return (fromId) => {
    const own = ofStation.get(fromId) ?? NEW_SETUP;
    return {
      horizontalM: setup.horizontalM ?? own.horizontalM,
      verticalM: setup.verticalM ?? own.verticalM,
    };
  };
}

function nothingObserved(): Problem {
  return errorProblem('usage-invalid', {
    message: 'nothing is observed',
    hint: 'give points files with --session, --vectors, --levelled or --distances',
  });
}

/** The control of its file, and of the sessions what the file does not name; with the geoid heights used. */
function controlPoints(
  stated: readonly Placed<NetworkControlRow>[],
  known: readonly NetworkControlRow[],
  systems: NetworkSystems,
  positionFrom: PositionChoice,
): {
  readonly control: readonly ControlPoint[];
  readonly geoidHeightM: Map<string, number>;
  readonly problems: readonly Problem[];
} {
  const named = new Set(stated.map(({ value }) => value.pointId));
  const rows = [
    ...stated,
    ...known.filter(({ pointId }) => !named.has(pointId)).map((value) => ({ value, place: null })),
  ].sort((a, b) => (a.value.pointId < b.value.pointId ? -1 : 1));
  const geoidHeightM = new Map<string, number>();
  const problems: Problem[] = [];
  const control = rows.flatMap(({ value, place }) => {
    const made = controlOf(value, systems, positionFrom);
    for (const problem of made.problems)
      problems.push(place === null ? problem : locateProblem(problem, { source: place.source, line: place.line }));
    if (!made.ok) return [];
    if (made.value.geoidHeightM !== null) geoidHeightM.set(value.pointId, made.value.geoidHeightM);
    return [made.value.point];
  });
  return { control, geoidHeightM, problems };
}

/** Sorted by what they say, so that the order of the input changes no digit. */
function sortedVectors(list: readonly Placed<VectorObservation>[]): readonly Placed<VectorObservation>[] {
  return [...list].sort(
    ({ value: a }, { value: b }) =>
      order(a.fromId, b.fromId) ||
      order(a.toId, b.toId) ||
      order(a.difference.xM, b.difference.xM) ||
      order(a.difference.yM, b.difference.yM) ||
      order(a.difference.zM, b.difference.zM) ||
      // Where they are all the same, by what else is said of the two.
      order(JSON.stringify([a.covariance, a.shared, a.day]), JSON.stringify([b.covariance, b.shared, b.day])),
  );
}

function sortedLines(list: readonly Placed<LineRow>[]): readonly Placed<LineRow>[] {
  const restOf = ({ fromUpM, toUpM, zenithDeg, air }: LineRow): string =>
    JSON.stringify([fromUpM, toUpM, zenithDeg, air]);
  return [...list].sort(
    ({ value: a }, { value: b }) =>
      order(a.fromId, b.fromId) ||
      order(a.toId, b.toId) ||
      order(a.valueM, b.valueM) ||
      order(a.sigmaM, b.sigmaM) ||
      order(restOf(a), restOf(b)),
  );
}

function order(a: string | number, b: string | number): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Geoid heights of stations with a place that levelling or an orthometric height meets; returned: what stands against it. */
function addGeoidHeights(
  network: Network,
  heights: Map<string, number>,
  { geoid, ellipsoid }: NetworkSystems,
): readonly Problem[] {
  const meeting = new Set([
    ...network.levelled.flatMap(({ fromId, toId }) => [fromId, toId]),
    ...network.control.flatMap(({ id, position }) => (position === null ? [id] : [])),
  ]);
  if (meeting.size === 0) return [];
  const list = networkStations(network, false);
  if ('loose' in list) return [];
  return list.stations.flatMap(({ id, place }): readonly Problem[] => {
    if (place === null || !meeting.has(id)) return [];
    const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(place.position, ellipsoid);
    if (geoid === null)
      return [
        errorProblem('config-missing', {
          message: `levelling or an orthometric height meets ${id}, whose place is of the ellipsoid, and there is no geoid`,
          hint: 'give --geoid, and --system where there is no session',
        }),
      ];
    const n = geoid.heightAt(latitudeDeg, longitudeDeg);
    if (n !== null) heights.set(id, n);
    const status = n === null ? geoid.statusAt(latitudeDeg, longitudeDeg) : 'inside';
    return status === 'inside' ? [] : [geoidProblem(status, latitudeDeg, longitudeDeg, geoid.grid)];
  });
}
