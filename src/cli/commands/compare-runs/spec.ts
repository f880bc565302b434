import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook compare-runs` */
export const compareRunsSpec: CommandSpec = {
  name: 'compare-runs',
  summary: 'two runs point by point: what moved by how much against its uncertainty, what appeared and vanished',
  description: [
    'Compares two points files, or the points of two run records, in plan and in height. Points observed anew are judged by the',
    'covariance of the difference, without what base and set-up share; points of the same observations by a tenth of their own',
    '95 %; by a limit where one is given. Both must be in one system. Exit code 1 where anything moved beyond.',
  ],
  arguments: [
    { name: '<old>', description: 'points file, or run record with its points beside it' },
    { name: '<new>', description: 'the later one' },
  ],
  options: [
    SYSTEM_OPTION,
    SESSION_OPTION,
    ...GEOID_OPTIONS,
    { flags: '--limit-horizontal <metres>', description: 'limit of the horizontal difference', kind: 'number' },
    { flags: '--limit-vertical <metres>', description: 'limit of the height difference', kind: 'number' },
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'a run, and the same fixes with another pole',
      command:
        'pegbook reduce-points examples/first-use/fixes.csv --session examples/first-use/session.toml -o old.csv --record old.json',
    },
    {
      about: 'a centimetre longer, typed wrongly',
      command:
        'pegbook reduce-points examples/first-use/fixes.csv --session examples/first-use/session.toml --pole-length 2.01 -o new.csv --record new.json',
    },
    { about: 'what moved, and which setting differs', command: 'pegbook compare-runs old.json new.json', exit: 1 },
    {
      about: 'points files by a limit',
      command: 'pegbook compare-runs old.csv new.csv --system EPSG:2049 --limit-horizontal 0.02 --limit-vertical 0.02',
    },
  ],
  cautions: [
    'Points that kept their place may all be wrong alike: what both runs share, such as the coordinate of the base, does not show.',
  ],
  load: async () => (await import('./run.js')).runCompareRuns,
};
