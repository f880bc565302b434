import { pushAll } from '../../core/numeric/push-all.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { NmeaRest } from './nmea-scan.js';

/** Why epochs or sentences are left out without being wrong. */
type LeftOut = 'without-position' | 'outside-occupations' | 'other-talker' | 'repeated';

/** What is said once of a log, at its end. */
export interface NmeaNotes {
  readonly count: (reason: LeftOut) => void;
  /** An epoch whose week number has probably rolled over. */
  readonly rolledOver: (line: number, loggedMs: number, probableMs: number) => void;
  /** Everything there is to say, in a fixed order. */
  readonly problems: (rest: NmeaRest) => readonly Problem[];
}

/** Counts what a log has beside epochs that are used. Given: its name, as typed. */
export function createNmeaNotes(source: string): NmeaNotes {
  const counts: Record<LeftOut, number> = {
    'without-position': 0,
    'outside-occupations': 0,
    'other-talker': 0,
    repeated: 0,
  };
  let rolled = 0;
  let first: { readonly line: number; readonly loggedMs: number; readonly probableMs: number } | null = null;

  const note = (code: 'nmea-epochs-left-out' | 'nmea-skipped', message: string, line?: number): Problem => ({
    code,
    severity: 'note',
    message,
    where: { source, ...(line !== undefined && { line }) },
  });
  const leftOut = (reason: LeftOut, one: string, many: string): readonly Problem[] => {
    const count = counts[reason];
    return count === 0 ? [] : [note('nmea-epochs-left-out', count === 1 ? `1 ${one}` : `${String(count)} ${many}`)];
  };

  return {
    count(reason) {
      counts[reason] += 1;
    },
    rolledOver(line, loggedMs, probableMs) {
      rolled += 1;
      first ??= { line, loggedMs, probableMs };
    },
    problems({ bytes, places, firstLine, tagBlocks }) {
      const found: Problem[] = [];
      if (first !== null) {
        const { line, loggedMs, probableMs } = first;
        found.push(
          warningProblem('nmea-week-rollover', {
            message: `${String(rolled)} ${rolled === 1 ? 'epoch is' : 'epochs are'} dated from ${formatUtc(loggedMs)} on, outside any week this work can be of: the receiver's week number has probably rolled over, and the date is ${formatUtc(probableMs)}`,
            where: { source, line },
            hint: "the dates stay as logged: renew the receiver's firmware, or write the log again with the right dates before what depends on them (windows of bases, epochs of coordinates)",
          }),
        );
      }
      pushAll(
        found,
        leftOut(
          'without-position',
          'epoch has no satellite position (GGA quality 0, or 6 and above) and is left out',
          'epochs have no satellite position (GGA quality 0, or 6 and above) and are left out',
        ),
      );
      pushAll(
        found,
        leftOut(
          'outside-occupations',
          'epoch lies outside every occupation named and is left out',
          'epochs lie outside every occupation named and are left out',
        ),
      );
      pushAll(
        found,
        leftOut(
          'other-talker',
          'position is of another talker than --talker names and is left out',
          'positions are of other talkers than --talker names and are left out',
        ),
      );
      pushAll(
        found,
        leftOut(
          'repeated',
          'position says what the one before it at its time says, and counts once',
          'positions say what the one before them at their time says, and count once',
        ),
      );
      if (bytes > 0)
        found.push(
          note(
            'nmea-skipped',
            `${String(bytes)} ${bytes === 1 ? 'byte' : 'bytes'} in ${String(places)} ${places === 1 ? 'place' : 'places'} are no NMEA 0183 sentence and were passed over, the first here`,
            firstLine,
          ),
        );
      if (tagBlocks > 0)
        found.push(
          note(
            'nmea-skipped',
            `${String(tagBlocks)} tag ${tagBlocks === 1 ? 'block' : 'blocks'} before sentences were passed over`,
          ),
        );
      return found;
    },
  };
}
