import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { distanceInAir, markToMark } from '../../../core/observation/distance-in-air.js';
import type {
  ControlPoint,
  DistanceObservation,
  Network,
  SharedError,
  VectorObservation,
} from '../../../core/network/network.js';
import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import type { LineRow, VectorRow } from '../../../records/network-rows.js';

/** What places of a network are in. */
export interface NetworkSystems {
  readonly ellipsoid: Ellipsoid;
  /** Null: no grid system is named, and no grid values are read or written. */
  readonly grid: GridSystem | null;
  readonly geoid: GeoidModel | null;
  /** One sigma of the geoid height; null: not stated. */
  readonly geoidSigmaM: number | null;
}

/** One sigma per horizontal axis and in height of setting up over a mark anew, metres. */
export interface SetupSigmas {
  readonly horizontalM: number;
  readonly verticalM: number;
}

/** A slope of the geoid's error, one sigma in each direction, metres a kilometre. An assumption. */
export const GEOID_TILT_SIGMA_M_PER_KM = 0.002;

const NOTHING_SHARED: VectorObservation['shared'] = [];

/** The vectors of a file, and the errors that those of one set-up share, whose sigmas are those of the station they start from. */
export function vectorsOf(
  rows: readonly VectorRow[],
  setupOf: (fromId: string) => SetupSigmas,
): { readonly vectors: readonly VectorObservation[]; readonly shared: readonly SharedError[] } {
  const shared = new Map<string, SharedError>();
  /** What the vectors of a set-up share, once for all of them. */
  const terms = new Map<string, VectorObservation['shared']>();
  const vectors = rows.map((row): VectorObservation => {
    const { fromId, toId, geocentric, local } = row;
    const name = row.baseSetup === '' && row.day === '' ? null : setupName(row);
    if (name !== null && !shared.has(name)) {
      terms.set(name, [{ error: name, along: 'whole' }]);
      shared.set(name, {
        name,
        of: `set-ups of ${fromId}`,
        covariance: { stationId: fromId, local: setupCovariance(setupOf(fromId)) },
      });
    }
    return {
      fromId,
      toId,
      difference: { xM: row.dxM, yM: row.dyM, zM: row.dzM },
      covariance: geocentric ?? { stationId: fromId, local: localOf(local!) },
      shared: name === null ? NOTHING_SHARED : (terms.get(name) ?? NOTHING_SHARED),
      day: row.day,
    };
  });
  return { vectors, shared: [...shared.values()].sort((a, b) => (a.name < b.name ? -1 : 1)) };
}

/** The error of a set-up in its own axes, m². */
export function setupCovariance({ horizontalM, verticalM }: SetupSigmas): typeof ZERO_COVARIANCE {
  return { ...ZERO_COVARIANCE, eeM2: horizontalM ** 2, nnM2: horizontalM ** 2, uuM2: verticalM ** 2 };
}

function setupName({ fromId, baseSetup, day }: VectorRow): string {
  return ['set-up', fromId, baseSetup, day].filter((word) => word !== '').join(' ');
}

function localOf({
  sigmaEastM,
  sigmaNorthM,
  sigmaUpM,
  correlationEn,
}: NonNullable<VectorRow['local']>): typeof ZERO_COVARIANCE {
  return {
    ...ZERO_COVARIANCE,
    eeM2: sigmaEastM ** 2,
    enM2: correlationEn * sigmaEastM * sigmaNorthM,
    nnM2: sigmaNorthM ** 2,
    uuM2: sigmaUpM ** 2,
  };
}

/** The network of everything given; sorted, so that the order of files and rows changes no digit. */
export function networkOf(
  parts: {
    readonly vectors: readonly VectorObservation[];
    readonly shared: readonly SharedError[];
    readonly levelled: readonly LineRow[];
    readonly distances: readonly LineRow[];
    readonly control: readonly ControlPoint[];
    readonly geoidHeightM: ReadonlyMap<string, number>;
    readonly geoidTiltSigmaMPerKm: number;
  },
  systems: NetworkSystems,
): Network {
  return {
    ellipsoid: systems.ellipsoid,
    vectors: parts.vectors,
    levelled: parts.levelled.map(({ fromId, toId, valueM, sigmaM }) => ({ fromId, toId, differenceM: valueM, sigmaM })),
    distances: parts.distances.map(distanceOf),
    control: parts.control,
    shared: parts.shared,
    geoidHeightM: parts.geoidHeightM,
    geoidError:
      systems.geoidSigmaM === null
        ? null
        : { constantSigmaM: systems.geoidSigmaM, tiltSigmaMPerKm: parts.geoidTiltSigmaMPerKm },
  };
}

/** A distance as observed: in its air where that is stated, and from mark to mark where a zenith angle is. */
function distanceOf({ fromId, toId, valueM, sigmaM, fromUpM, toUpM, zenithDeg, air }: LineRow): DistanceObservation {
  const distanceM = air === null ? valueM : distanceInAir(valueM, air, air);
  return zenithDeg === null
    ? { fromId, toId, distanceM, sigmaM, fromUpM, toUpM }
    : {
        fromId,
        toId,
        distanceM: markToMark(distanceM, zenithDeg, fromUpM, toUpM).slopeM,
        sigmaM,
        fromUpM: 0,
        toUpM: 0,
      };
}
