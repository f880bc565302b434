import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { OccupationInterval } from '../../../../io/tables/fixes/occupations-read.js';
import type { FixPlaces } from '../../../../io/tables/fixes/fix-row.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { inputKind } from '../../../../files/reduction/open-fixes.js';
import type { FixInputSettings } from '../../../../files/reduction/open-fixes.js';
import type { RunDay } from '../prepare-run.js';

/** What the inputs of a reduction are read with, and which named occupations have had an epoch. */
export interface ReductionInputs {
  readonly settings: FixInputSettings;
  /** The named occupations that no epoch belongs to. */
  readonly withoutEpochs: () => readonly OccupationInterval[];
}

/**
 * How the inputs of one day of those of a run are read. `places`: how positions of fixes become geodetic.
 * Problems: usage-invalid for a talker that is none; usage-conflict for options of logs where no input is one.
 */
export function reductionInputs(
  invocation: Invocation,
  days: readonly RunDay[],
  { paths, tables, occupations, resolved: { session } }: RunDay,
  places: FixPlaces,
): Outcome<ReductionInputs> {
  const kind = textOption(invocation, 'input');
  const talker = textOption(invocation, 'talker');
  if (talker !== null && !/^[A-Z]{2}$/.test(talker)) {
    return failure(
      errorProblem('usage-invalid', {
        message: '--talker names no talker',
        received: talker,
        expected: 'two capital letters, such as GN or GP',
      }),
    );
  }
  const hasLog = (names: readonly string[]): boolean => names.some((path) => inputKind(path, kind) === 'nmea');
  for (const [flag, isGiven, names] of [
    ['--talker', talker !== null, days.flatMap((day) => day.paths)],
    ['--occupations', occupations !== null, paths],
  ] as const) {
    if (isGiven && !hasLog(names))
      return failure(
        errorProblem('usage-conflict', {
          message: `${flag} is for NMEA 0183 logs, and no input is read as one`,
          hint: 'leave it out, or say --input nmea',
        }),
      );
  }
  const seen = new Set<OccupationInterval>();
  const { bases, rover } = session;
  const settings: FixInputSettings = {
    tables,
    kind,
    places,
    referencePoint: rover.referencePoint,
    log: {
      occupations,
      onOccupation: (interval) => seen.add(interval),
      talker,
      baseIds: bases.map(({ id }) => id),
      // No occupations are named.
      spans: [...bases, ...(occupations ?? [])],
    },
  };
  // No occupations are named, and none can be without epochs.
  return success({ settings, withoutEpochs: () => (occupations ?? []).filter((interval) => !seen.has(interval)) });
}
