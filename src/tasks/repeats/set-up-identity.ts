import { smallestOf } from '../../core/numeric/extremes.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import { entryAt } from '../../records/present.js';
import type { BaseSettings } from '../../records/session.js';

/** One sigma per horizontal axis and in height, metres. */
export interface BaseSigmas {
  readonly horizontalM: number;
  readonly verticalM: number;
}

/**
 * What tells base set-ups apart, and what two of them share. A set-up is its base id, window, coordinate and antenna height
 * together, and the day of a job that describes it; a mark is a place, whatever it is called. The error of a base coordinate is that of its mark, common to every
 * set-up on it, and that of the set-up, made anew each time: squares of `mark` and `setup` add up to the stated sigma's.
 */
export interface SetUpIdentity {
  readonly setupKey: string;
  readonly markKey: string;
  /** The id, and where several set-ups have it the time from which this one holds. */
  readonly setupName: string;
  readonly mark: BaseSigmas;
  readonly setup: BaseSigmas;
  /** Errors of other marks that the coordinate of this one was measured from; absent: none. */
  readonly inherited?: readonly InheritedSigmas[];
}

/** The error of another mark within a coordinate. */
export interface InheritedSigmas extends BaseSigmas {
  readonly markKey: string;
}

/** What an identity is made of. */
export interface SetUpFacts {
  readonly settings: BaseSettings;
  /** The mark, geocentric; the antenna reference point where no antenna height is stated. */
  readonly place: GeocentricPoint;
}

/** Measuring the height of an antenna over a mark with a tape, one sigma. From memory. */
export const ANTENNA_HEIGHT_SIGMA_M = 0.002;
/** Centring an antenna over a mark, one sigma per axis. From memory. */
export const CENTRING_SIGMA_M = 0.0015;
/** Both, of setting up anew. */
export const NEW_SETUP: BaseSigmas = { horizontalM: CENTRING_SIGMA_M, verticalM: ANTENNA_HEIGHT_SIGMA_M };
/** Coordinates are typed to a tenth of a millimetre or to 9 decimals of a degree; marks this near are one. */
const SAME_MARK_M = 0.0005;

/**
 * The identities of the set-ups of a session.
 *
 * Given: settings and places of all of them. Returned: one each, in their order.
 *
 * Notes:
 * 1. Where the coordinate used is at the mark, setting up anew repeats the centring and the antenna height; where it is at the
 *    antenna, neither enters it, and set-ups with one coordinate share the whole error.
 * 2. Set-ups on one mark that state different sigmas share what the least states; the rest is their own.
 */
export function setUpIdentities(facts: readonly SetUpFacts[]): readonly SetUpIdentity[] {
  const markAt = (place: GeocentricPoint): number =>
    facts.findIndex((other) => apartM(other.place, place) <= SAME_MARK_M);
  const marks = facts.map(({ place }) => markAt(place));
  const alone = facts.map(({ settings }) => markShare(settings));
  return facts.map(({ settings, place }, index): SetUpIdentity => {
    const own = alone.filter((_, other) => marks[other] === marks[index]);
    const mark = {
      horizontalM: smallestOf(own.map(({ horizontalM }) => horizontalM)),
      verticalM: smallestOf(own.map(({ verticalM }) => verticalM)),
    };
    // Absent: no mark is inherited.
    const inherited = sumOf(settings.inherited ?? []);
    return {
      setupKey: [
        settings.id,
        settings.fromMs,
        settings.toMs,
        place.xM,
        place.yM,
        place.zM,
        JSON.stringify(settings.antennaHeight),
        ...(settings.day === undefined ? [] : [`on ${settings.day}`]),
      ].join(' '),
      markKey: markName(entryAt(marks, index)),
      setupName: nameOf(settings, facts),
      mark,
      setup: {
        // Not stated: it adds nothing, and the summary says what is missing.
        horizontalM: restOf(settings.sigmaHorizontalM ?? 0, Math.hypot(mark.horizontalM, inherited.horizontalM)),
        // Not stated: it adds nothing, and the summary says what is missing.
        verticalM: restOf(settings.sigmaVerticalM ?? 0, Math.hypot(mark.verticalM, inherited.verticalM)),
      },
      ...(settings.inherited !== undefined && {
        inherited: settings.inherited.map(({ place: from, ...sigmas }) => ({
          ...sigmas,
          markKey: markName(markAt(from)),
        })),
      }),
    };
  });
}

/** The errors of a base in two parts: of its mark, with those of the marks that it was measured from, and of setting up. */
export function markAndSetUp({ mark, setup, inherited }: SetUpIdentity): Pick<SetUpIdentity, 'mark' | 'setup'> {
  // Measured from no other.
  const from = sumOf(inherited ?? []);
  return {
    setup,
    mark: {
      horizontalM: Math.hypot(mark.horizontalM, from.horizontalM),
      verticalM: Math.hypot(mark.verticalM, from.verticalM),
    },
  };
}

function markShare(settings: BaseSettings): BaseSigmas {
  const isAtMark = (settings.known ?? settings.broadcast).at === 'mark';
  const height = settings.antennaHeightSigmaM ?? (isAtMark ? ANTENNA_HEIGHT_SIGMA_M : 0);
  const centring = settings.centringSigmaM ?? (isAtMark ? CENTRING_SIGMA_M : 0);
  // Absent: no mark is inherited.
  const inherited = sumOf(settings.inherited ?? []);
  return {
    // Not stated: it adds nothing, and the summary says what is missing.
    horizontalM: restOf(settings.sigmaHorizontalM ?? 0, Math.hypot(centring, inherited.horizontalM)),
    // Not stated: it adds nothing, and the summary says what is missing.
    verticalM: restOf(settings.sigmaVerticalM ?? 0, Math.hypot(height, inherited.verticalM)),
  };
}

function markName(place: number): string {
  return `mark ${String(place)}`;
}

/** Independent errors together. */
function sumOf(parts: readonly BaseSigmas[]): BaseSigmas {
  return {
    horizontalM: Math.sqrt(parts.reduce((sum, { horizontalM }) => sum + horizontalM ** 2, 0)),
    verticalM: Math.sqrt(parts.reduce((sum, { verticalM }) => sum + verticalM ** 2, 0)),
  };
}

/** What is left of a sigma once a part of it is taken out; 0 where the part is larger. */
function restOf(totalM: number, partM: number): number {
  return Math.sqrt(Math.max(0, totalM * totalM - partM * partM));
}

function apartM(a: GeocentricPoint, b: GeocentricPoint): number {
  return Math.hypot(a.xM - b.xM, a.yM - b.yM, a.zM - b.zM);
}

function nameOf({ id, day, fromMs, toMs }: BaseSettings, facts: readonly SetUpFacts[]): string {
  const others = facts.filter(({ settings }) => settings.id === id && (day === undefined || settings.day === day));
  if (others.length < 2) return day === undefined ? id : `${id} on ${day}`;
  if (fromMs !== null) return `${id} from ${formatUtc(fromMs)}`;
  return toMs === null ? id : `${id} to ${formatUtc(toMs)}`;
}
