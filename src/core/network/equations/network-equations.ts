import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { InternalError } from '../../../records/internal-error.js';
import { entryAt, present } from '../../../records/present.js';
import type { BlockEquations } from '../blocks/block-equations.js';
import { along, controlRows, inverseOf, northOf, upOf } from './control-rows.js';
import { distortionOf } from '../distortions/distortion.js';
import { writeOrigins } from './equation-origins.js';
import type { EquationOrigin, EquationOrigins, OriginWriter } from './equation-origins.js';
import { minus, raised, stretched } from './local-axes.js';
import { FIXED_SIGMA_M } from '../network.js';
import type { ControlPoint, CovarianceAt, Network } from '../network.js';
import { geocentricCovariance } from './relative-accuracy.js';
import type { NetworkStation, StationList } from '../stations/network-stations.js';
import { writeEquations } from './write-equations.js';
import type { EquationWriter } from './write-equations.js';

/** Equations of a network, and what each is. */
export interface NetworkEquations {
  readonly equations: BlockEquations;
  readonly origins: EquationOrigins;
  /** Block of each shared error; that of a station is its place in the list of stations. */
  readonly sharedBlock: (index: number) => number;
  /** Of the geoid's constant and its tilt east and north; null where orthometric heights meet none. */
  readonly geoidBlocks: readonly [number, number, number] | null;
  /** The first equation of control, which stands last. */
  readonly controlFrom: number;
}

/** Which control is used, and which observations are left out. */
export interface EquationChoice {
  /** Control that holds, as it stands; for a minimal datum one of each part, held fixed. */
  readonly control: readonly { readonly point: ControlPoint; readonly index: number }[];
  /** Places in the network's own lists of observations that are left out. */
  readonly leftOut: { readonly has: (kind: EquationOrigin['kind'], index: number) => boolean };
}

const FIXED_VARIANCE_M2 = FIXED_SIGMA_M ** 2;
const PER_KM = 1e-3;

/** What the equations of one network are written with. */
interface Draft {
  readonly network: Network;
  readonly list: StationList;
  readonly choice: EquationChoice;
  readonly writer: EquationWriter;
  readonly origins: OriginWriter;
  readonly sharedAt: ReadonlyMap<string, number>;
  readonly geoidBlocks: NetworkEquations['geoidBlocks'];
  /** Where the tilt of the geoid turns about. */
  readonly pivot: Place | null;
}

type Place = NonNullable<NetworkStation['place']>;

/**
 * The observation equations of a network at its approximate values.
 *
 * Given: the network; its stations; what of it is used; equations of the same but for the control, null: none are known.
 * Returned: the equations in the order vectors, levelled differences, distances, shared errors, geoid, control; unknowns are corrections in metres to the approximate values, geocentric.
 * Errors: InternalError for a covariance that is not positive definite; the caller has checked.
 */
export function networkEquations(
  network: Network,
  list: StationList,
  choice: EquationChoice,
  before: NetworkEquations | null = null,
): NetworkEquations {
  const { stations } = list;
  const first = stations.length + network.shared.length;
  const geoidBlocks = meetsGeoid(network, list) ? ([first, first + 1, first + 2] as const) : null;
  const sizes = [
    ...stations.map(({ place }) => (place === null ? 1 : 3)),
    ...network.shared.map(({ covariance }) => (typeof covariance === 'number' ? 1 : 3)),
    ...(geoidBlocks === null ? [] : [1, 1, 1]),
  ];
  const vectors = network.vectors.length;
  const others = network.levelled.length + network.distances.length + choice.control.length + network.shared.length + 3;
  let shared = 0;
  for (const vector of network.vectors) shared += vector.shared.length;
  const draft: Draft = {
    network,
    list,
    choice,
    writer: writeEquations(
      sizes,
      {
        observations: vectors + others,
        rows: 3 * (vectors + others),
        weights: 9 * (vectors + others),
        terms: 2 * vectors + shared + 2 * others,
        matrices: 0,
      },
      before === null ? null : { equations: before.equations, count: before.controlFrom },
    ),
    origins:
      before === null
        ? writeOrigins(vectors + others)
        : before.origins.begin(before.controlFrom, before.controlFrom + choice.control.length),
    sharedAt: new Map(network.shared.map(({ name }, index) => [name, index])),
    geoidBlocks,
    pivot: stations.find(({ place }) => place !== null)?.place ?? null,
  };
  if (before === null) {
    addVectors(draft);
    addLevelled(draft);
    addDistances(draft);
    addPriors(draft);
  }
  addControl(draft);
  const origins = draft.origins.finish();
  return {
    equations: draft.writer.finish(),
    origins,
    controlFrom: origins.length - choice.control.length,
    sharedBlock: (index) => stations.length + index,
    geoidBlocks,
  };
}

/** Whether an orthometric height meets a station with a place, and the geoid may be wrong. */
function meetsGeoid({ geoidError, control }: Network, { stations, indexOf, ends }: StationList): boolean {
  if (geoidError === null) return false;
  const hasPlace = (index: number): boolean => entryAt(stations, index).place !== null;
  return (
    ends.levelled.some(hasPlace) ||
    control.some(({ id, orthometricHeightM }) => {
      const index = indexOf.get(id);
      return orthometricHeightM !== null && index !== undefined && hasPlace(index);
    })
  );
}

/** Every direction as it is. */
const EVEN = [1, 1, 1] as const;

function addVectors(draft: Draft): void {
  const { network, list, choice, writer, origins, sharedAt } = draft;
  const { stations, ends } = list;
  for (let index = 0; index < network.vectors.length; index += 1) {
    if (choice.leftOut.has('vector', index)) continue;
    const { difference, covariance, shared } = network.vectors[index]!;
    const [fromAt, toAt] = [ends.vectors[2 * index]!, ends.vectors[2 * index + 1]!];
    const from = placeOf(stations[fromAt]!);
    const to = placeOf(stations[toAt]!);
    writer.identity(toAt, 1);
    writer.identity(fromAt, -1);
    for (const { error, along: way, factors } of shared) {
      const block = stations.length + present(sharedAt.get(error), 'a shared error');
      if (way === 'whole') writer.identity(block, -1);
      else if (way === 'distorted') writer.turned(block, distorted(draft, block, from, to), 1);
      else if (way === 'local-to') writer.turned(block, stretched(to.frame, factors ?? EVEN), 1);
      else if (way === 'up-from') writer.turned(block, upOf(from.frame), -1);
      else writer.turned(block, upOf(to.frame), 1);
    }
    const isWritten = writer.closeThree(
      difference.xM - (to.position.xM - from.position.xM),
      difference.yM - (to.position.yM - from.position.yM),
      difference.zM - (to.position.zM - from.position.zM),
      geocentricOf(covariance, list),
    );
    if (!isWritten) throw new InternalError('a covariance of an observation is singular');
    origins.add('vector', index);
  }
}

/** What a vector is distorted by, for a unit of the shared error of a block. */
function distorted({ network, list }: Draft, block: number, from: Place, to: Place): readonly number[] {
  const { distortion } = entryAt(network.shared, block - list.stations.length);
  const { kind, stationId } = present(distortion, 'the distortion of a shared error');
  const axes = placeOf(entryAt(list.stations, present(list.indexOf.get(stationId), 'the station of a distortion')));
  return distortionOf(kind, from, to, axes.frame, network.ellipsoid);
}

function addLevelled(draft: Draft): void {
  const { network, list, choice, writer, origins } = draft;
  /** Writes the terms of one end. Returned: its orthometric height, metres. */
  const end = (index: number, sign: number): number => {
    const { id, place, heightM } = entryAt(list.stations, index);
    if (place === null) {
      writer.identity(index, sign);
      return heightM;
    }
    writer.turned(index, upOf(place.frame), sign);
    addGeoid(draft, place.position, [1], -sign);
    // Where no geoid is named heights are those of the ellipsoid; `assembleNetwork` refuses levelling without one.
    return heightOf(place.position, network) - (network.geoidHeightM.get(id) ?? 0);
  };
  network.levelled.forEach(({ differenceM, sigmaM }, index) => {
    if (choice.leftOut.has('levelled', index)) return;
    const to = end(list.ends.levelled[2 * index + 1]!, 1);
    const from = end(list.ends.levelled[2 * index]!, -1);
    writer.close([differenceM - (to - from)], [1 / (sigmaM * sigmaM)]);
    origins.add('levelled', index);
  });
}

function addDistances({ network, list, choice, writer, origins }: Draft): void {
  network.distances.forEach(({ distanceM, sigmaM, fromUpM, toUpM }, index) => {
    if (choice.leftOut.has('distance', index)) return;
    const [fromAt, toAt] = [list.ends.distances[2 * index]!, list.ends.distances[2 * index + 1]!];
    const [from, to] = [placeOf(entryAt(list.stations, fromAt)), placeOf(entryAt(list.stations, toAt))];
    const apart = minus(raised(to, toUpM), raised(from, fromUpM));
    const length = Math.hypot(apart.xM, apart.yM, apart.zM);
    const unit = [apart.xM / length, apart.yM / length, apart.zM / length];
    writer.turned(toAt, unit, 1);
    writer.turned(fromAt, unit, -1);
    writer.close([distanceM - length], [1 / (sigmaM * sigmaM)]);
    origins.add('distance', index);
  });
}

function addControl(draft: Draft): void {
  const { network, list, choice, writer, origins } = draft;
  for (const { point, index } of choice.control) {
    const block = present(list.indexOf.get(point.id), 'the station of a control point');
    const { place, heightM } = entryAt(list.stations, block);
    // Asked for below where no place is known, or where the height made one: then it is stated.
    const stated = point.orthometricHeightM ?? 0;
    if (place === null) {
      writer.identity(block, 1);
      // Without a variance it is held without error.
      writer.close([stated - heightM], [1 / Math.max(point.heightVarianceM2 ?? 0, FIXED_VARIANCE_M2)]);
    } else {
      const rows = controlRows(point, place.frame);
      const isRaised = point.orthometricHeightM !== null && point.held !== 'plan';
      writer.turned(block, rows.matrix, 1);
      if (isRaised) addGeoid(draft, place.position, rows.up, 1);
      const { position } = point;
      // As above.
      const height = stated + (network.geoidHeightM.get(point.id) ?? 0);
      writer.close(
        position === null
          ? [height - heightOf(place.position, network)]
          : rows.directions.map((direction) => along(direction, minus(position, place.position))),
        rows.weight,
      );
    }
    origins.add('control', index);
  }
}

/** What is known beforehand: every shared error and those of the geoid are 0 with their sigmas. */
function addPriors({ network, list, choice, writer, origins, geoidBlocks }: Draft): void {
  network.shared.forEach(({ covariance }, index) => {
    if (choice.leftOut.has('shared', index)) return;
    writer.identity(list.stations.length + index, 1);
    if (typeof covariance === 'number') writer.close([0], [1 / covariance]);
    else writer.close([0, 0, 0], inverseOf(geocentricOf(covariance, list)));
    origins.add('shared', index);
  });
  if (geoidBlocks === null || network.geoidError === null) return;
  const { constantSigmaM, tiltSigmaMPerKm } = network.geoidError;
  [constantSigmaM, tiltSigmaMPerKm, tiltSigmaMPerKm].forEach((sigma, index) => {
    if (choice.leftOut.has('geoid', index)) return;
    writer.identity(entryAt(geoidBlocks, index), 1);
    writer.close([0], [1 / Math.max(sigma * sigma, FIXED_VARIANCE_M2)]);
    origins.add('geoid', index);
  });
}

/** The geoid's part in an ellipsoidal height made from an orthometric one, times `sign`: rows of one number each. */
function addGeoid(
  { writer, geoidBlocks, pivot }: Draft,
  position: GeocentricPoint,
  rows: readonly number[],
  sign: number,
): void {
  if (geoidBlocks === null || pivot === null) return;
  const apart = minus(position, pivot.position);
  const east = (-pivot.frame.sinLon * apart.xM + pivot.frame.cosLon * apart.yM) * PER_KM;
  const north = along(northOf(pivot.frame), apart) * PER_KM;
  writer.turned(geoidBlocks[0], rows, sign);
  writer.turned(geoidBlocks[1], rows, sign * east);
  writer.turned(geoidBlocks[2], rows, sign * north);
}

function placeOf({ place }: NetworkStation): Place {
  return present(place, 'the place of a station');
}

function geocentricOf(covariance: Symmetric3 | CovarianceAt, { stations, indexOf }: StationList): Symmetric3 {
  if (!('local' in covariance)) return covariance;
  const index = present(indexOf.get(covariance.stationId), 'the station of a covariance');
  return geocentricCovariance(covariance.local, placeOf(entryAt(stations, index)).frame);
}

/** Height above the ellipsoid, metres. */
function heightOf(position: GeocentricPoint, { ellipsoid }: Network): number {
  return geocentricToGeodetic(position, ellipsoid).ellipsoidalHeightM;
}
