import { entryAt } from '../../../records/present.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import type { LocalFrame } from '../../ellipsoid/local-frame.js';
import { northOf, upOf } from '../equations/control-rows.js';
import type { Network, SharedError, VectorObservation } from '../network.js';
import type { NetworkStation } from '../stations/network-stations.js';

/**
 * What all vectors of a base, or of a day, may have in common beside a shift: they are too long; turned about east, north or up
 * of a station; or too high by a share of the height difference, as a wrong zenith delay makes them.
 */
export const DISTORTION_KINDS = ['scale', 'turn-east', 'turn-north', 'turn-up', 'zenith-delay'] as const;
export type DistortionKind = (typeof DISTORTION_KINDS)[number];

/** One distortion of some vectors. */
export interface Distortion {
  readonly kind: DistortionKind;
  /** The station in whose axes it turns. */
  readonly stationId: string;
}

/** One that is looked for. */
export interface DistortionCandidate extends Distortion {
  readonly name: string;
  /** Base or day. */
  readonly group: string;
  /** Places of its vectors in the network's list. */
  readonly members: readonly number[];
}

/** What is looked for. */
export interface DistortionSearch {
  readonly kinds: readonly DistortionKind[];
  /** Of all vectors that start from one station, or of one day. */
  readonly by: 'base' | 'day';
}

/** A distortion is in millionths: millimetres a kilometre, microradians. */
const PER_MILLION = 1e-6;
/**
 * One sigma of a distortion where nothing but the control speaks of it, in millionths: far beyond any that there is, so that it
 * holds nothing. An assumption.
 */
const ANY_DISTORTION_PPM = 1000;
/** Of fewer vectors a distortion is not looked for: two that disagree are two that disagree. */
export const LEAST_VECTORS = 3;

const WORDS: Readonly<Record<DistortionKind, string>> = {
  scale: 'scale',
  'turn-east': 'turn about east',
  'turn-north': 'turn about north',
  'turn-up': 'turn about up',
  'zenith-delay': 'zenith delay',
};

type Place = NonNullable<NetworkStation['place']>;

/**
 * What a vector is observed too large by, for each millionth of a distortion.
 *
 * Given: the kind; where the vector starts and ends; the axes of a turn (positive: counter-clockwise for who looks from the tip of
 * the axis). Returned: metres, geocentric. Note: height differences are ellipsoidal.
 */
export function distortionOf(
  kind: DistortionKind,
  from: Place,
  to: Place,
  axes: LocalFrame,
  ellipsoid: Ellipsoid,
): readonly [number, number, number] {
  const x = to.position.xM - from.position.xM;
  const y = to.position.yM - from.position.yM;
  const z = to.position.zM - from.position.zM;
  if (kind === 'scale') return [x * PER_MILLION, y * PER_MILLION, z * PER_MILLION];
  if (kind === 'zenith-delay') {
    const heightOf = ({ position }: Place): number => geocentricToGeodetic(position, ellipsoid).ellipsoidalHeightM;
    return scaled(upOf(to.frame), heightOf(to) - heightOf(from));
  }
  const axis =
    kind === 'turn-east' ? [-axes.sinLon, axes.cosLon, 0] : kind === 'turn-north' ? northOf(axes) : upOf(axes);
  const [a, b, c] = [entryAt(axis, 0), entryAt(axis, 1), entryAt(axis, 2)];
  return scaled([b * z - c * y, c * x - a * z, a * y - b * x], 1);
}

function scaled(direction: readonly number[], by: number): [number, number, number] {
  const factor = by * PER_MILLION;
  return [entryAt(direction, 0) * factor, entryAt(direction, 1) * factor, entryAt(direction, 2) * factor];
}

/** The base or day that a vector is of; empty: it names no day, and is of none. */
function groupOf({ fromId, day }: VectorObservation, by: DistortionSearch['by']): string {
  // Not known: of no day.
  return by === 'base' ? fromId : (day ?? '');
}

/** Vectors of which nothing is looked for, since they name no day. */
export function ungroupedVectors({ vectors }: Network, { by }: DistortionSearch): number {
  return vectors.filter((vector) => groupOf(vector, by) === '').length;
}

/** Everything that is looked for in a network: of each base or day with enough vectors, by name. */
export function distortionCandidates(
  network: Network,
  { kinds, by }: DistortionSearch,
): readonly DistortionCandidate[] {
  const groups = new Map<string, number[]>();
  network.vectors.forEach((vector, index) => {
    const key = groupOf(vector, by);
    if (key === '') return;
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [index]);
    else own.push(index);
  });
  return [...groups]
    .filter(([, members]) => members.length >= LEAST_VECTORS)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .flatMap(([group, members]) =>
      DISTORTION_KINDS.filter((kind) => kinds.includes(kind)).map((kind) => ({
        kind,
        group,
        members,
        name: `${WORDS[kind]} of ${by} ${group}`,
        stationId: entryAt(network.vectors, entryAt(members, 0)).fromId,
      })),
    );
}

/** The network with these distortions as unknowns, behind the errors it has; where observations say of them what they are, their prior is left out. */
export function withDistortions(network: Network, kept: readonly DistortionCandidate[]): Network {
  if (kept.length === 0) return network;
  const terms = new Map<number, VectorObservation['shared'][number][]>();
  for (const { name, members } of kept)
    for (const index of members) {
      const own = terms.get(index);
      if (own === undefined) terms.set(index, [{ error: name, along: 'distorted' }]);
      else own.push({ error: name, along: 'distorted' });
    }
  const errors = kept.map(({ name, kind, stationId }): SharedError => ({
    name,
    of: 'distortions',
    covariance: ANY_DISTORTION_PPM ** 2,
    distortion: { kind, stationId },
  }));
  return {
    ...network,
    shared: [...network.shared, ...errors],
    vectors: network.vectors.map((vector, index) => {
      const own = terms.get(index);
      return own === undefined ? vector : { ...vector, shared: [...vector.shared, ...own] };
    }),
  };
}
