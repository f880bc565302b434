import { geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import type { NetworkControlRow } from '../../../records/network-rows.js';
import { entryAt } from '../../../records/present.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { markAndSetUp, NEW_SETUP, setUpIdentities } from '../../repeats/set-up-identity.js';
import type { BaseSigmas } from '../../repeats/set-up-identity.js';
import type { OccupationSession } from './point-vectors.js';

/** A base set-up of a session as the network knows it. */
export interface NetworkBase {
  readonly base: PreparedBase;
  /** The station of its mark: over all sessions, a mark is one station. */
  readonly stationId: string;
  readonly markKey: string;
  /** The set-up among those of all sessions. */
  readonly setupName: string;
  /** What the sigmas of its points hold: of what every set-up on the mark shares, and of this one. */
  readonly sigmas: { readonly mark: BaseSigmas; readonly setup: BaseSigmas };
  /** Of setting up, as all its vectors share it. */
  readonly shared: BaseSigmas;
}

/** The bases of all sessions: marks within half a millimetre are one, whatever they are called and whoever names them. */
export function networkBases(sessions: readonly OccupationSession[]): readonly NetworkBase[] {
  const all = sessions.flatMap(({ setup, day }) => setup.bases.map((base) => ({ base, day, setup })));
  const identities = setUpIdentities(
    all.map(({ base, setup, day }) => ({
      settings: day === '' ? base.settings : { day, ...base.settings },
      place: geodeticToGeocentric(base.origin.geodetic, setup.ellipsoid),
    })),
  );
  const ofMark = new Map<string, string>();
  const taken = new Set<string>();
  return all.map(({ base }, index): NetworkBase => {
    const identity = entryAt(identities, index);
    const { markKey, setupName } = identity;
    const { mark, setup } = markAndSetUp(identity);
    // A mark that an earlier day measured as a point is the station of that point.
    let stationId = ofMark.get(markKey) ?? base.settings.knownFrom?.point;
    if (stationId === undefined) {
      stationId = taken.has(base.settings.id) ? setupName : base.settings.id;
    }
    taken.add(stationId);
    ofMark.set(markKey, stationId);
    return { base, stationId, markKey, setupName, sigmas: { mark, setup }, shared: sharedBy(base, setup) };
  });
}

/** What is stated; of a base without stated sigmas its centring and antenna height, as far as a mark is what its place is of. */
function sharedBy({ settings, origin }: PreparedBase, setup: BaseSigmas): BaseSigmas {
  if (settings.sigmaHorizontalM !== null || settings.sigmaVerticalM !== null) return setup;
  const usual = origin.at === 'mark' ? NEW_SETUP : { horizontalM: 0, verticalM: 0 };
  return {
    horizontalM: settings.centringSigmaM ?? usual.horizontalM,
    verticalM: settings.antennaHeightSigmaM ?? usual.verticalM,
  };
}

/** The marks whose coordinate the sessions know, as control with the sigmas of the mark, each once; one that an earlier day measured is no control: its vectors are there. */
export function knownBases(bases: readonly NetworkBase[]): readonly NetworkControlRow[] {
  const seen = new Set<string>();
  return bases.flatMap(({ base, stationId, sigmas }, index): readonly NetworkControlRow[] => {
    const { settings, origin } = base;
    if (settings.known === null || settings.knownFrom !== undefined || seen.has(stationId)) return [];
    seen.add(stationId);
    const isStated = settings.sigmaHorizontalM !== null && settings.sigmaVerticalM !== null;
    return [
      {
        pointId: stationId,
        geocentric: null,
        gridFirst: null,
        gridSecond: null,
        latitudeDeg: origin.geodetic.latitudeDeg,
        longitudeDeg: origin.geodetic.longitudeDeg,
        ellipsoidalHeightM: origin.geodetic.ellipsoidalHeightM,
        orthometricHeightM: null,
        sigmaHorizontalM: isStated ? sigmas.mark.horizontalM : null,
        sigmaVerticalM: isStated ? sigmas.mark.verticalM : null,
        held: isStated ? 'weighted' : 'fixed',
        place: { sourceIndex: -1, line: index + 1 },
      },
    ];
  });
}
