import type { Problem } from '../../records/problem.js';
import { warningProblem } from '../../records/problem.js';
import type { Solution } from '../../records/session.js';
import { digits } from './nmea-sentence.js';

/** Numbers that satellites of augmentation systems have in place of a base: a correction of theirs is no set-up. From memory. */
const FIRST_AUGMENTATION = 120;
const LAST_AUGMENTATION = 158;

/** Ids named in a message. */
const MOST_NAMED = 5;

/**
 * The reference station of a GGA sentence, as it stands there; null where it names no base: empty, a solution without
 * corrections, or a differential one of an augmentation satellite. Source: NMEA 0183 GGA field 14, from memory.
 */
export function nmeaStation(text: string, solution: Solution): string | null {
  if (!/^\d{1,5}$/.test(text) || solution === 'autonomous') return null;
  const number = digits(text);
  return solution === 'differential' && number >= FIRST_AUGMENTATION && number <= LAST_AUGMENTATION ? null : text;
}

/** Stations of a log, joined with the bases of a session. */
export interface StationJoin {
  /** The id of the base that a station is, as the session writes it; null for none, which is counted. */
  readonly baseOf: (station: string) => string | null;
  /** nmea-station-unknown for the stations that are no base, or null. */
  readonly unknown: (source: string) => Problem | null;
}

/**
 * Joins the station numbers of a log with the ids of bases: the same text, else the same number, so that `0133` is 133.
 * Where ids that differ are one number, the number alone joins none of them.
 */
export function createStationJoin(baseIds: readonly string[]): StationJoin {
  const byNumber = new Map<string, string | null>();
  const texts = new Set(baseIds);
  for (const id of texts) {
    if (!/^\d+$/.test(id)) continue;
    const number = numberOf(id);
    byNumber.set(number, byNumber.has(number) ? null : id);
  }
  const unknown = new Map<string, number>();
  return {
    baseOf(station) {
      const id = texts.has(station) ? station : (byNumber.get(numberOf(station)) ?? null);
      if (id === null && baseIds.length > 0) unknown.set(station, (unknown.get(station) ?? 0) + 1);
      return id;
    },
    unknown(source) {
      if (unknown.size === 0) return null;
      const listed = [...unknown]
        .slice(0, MOST_NAMED)
        .map(([station, count]) => `${station} (${count} ${count === 1 ? 'epoch' : 'epochs'})`);
      const more = unknown.size > MOST_NAMED ? ` and ${unknown.size - MOST_NAMED} more` : '';
      return warningProblem('nmea-station-unknown', {
        message: `the corrections came from ${unknown.size === 1 ? 'station' : 'stations'} ${listed.join(', ')}${more}, and no base of the session has ${unknown.size === 1 ? 'this number' : 'these numbers'}: ${[...new Set(baseIds)].join(', ')}`,
        where: { source },
        hint: 'give the [[base]] the station number as its id; until then its window of time alone says which fixes are from it',
      });
    },
  };
}

/** Digits without the zeros before them. */
function numberOf(text: string): string {
  return text.replace(/^0+(?=\d)/, '');
}
