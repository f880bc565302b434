import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, ON_ERROR_OPTION, OUTPUT_OPTIONS } from '../../shell/shared-options.js';

/** `pegbook list-runs` */
export const listRunsSpec: CommandSpec = {
  name: 'list-runs',
  summary: 'a table over runs, from their run records: days, points, verdicts, worst figures, bases, version',
  description: [
    'Reads the records that --record wrote and lists one run a line, in the order given. The answer is the gravest of the runs.',
    'Without --output and --format a short table for people is written; CSV and JSON hold every column.',
  ],
  arguments: [{ name: '<records...>', description: 'files that --record wrote' }],
  options: [CHECK_ONLY_OPTION, ON_ERROR_OPTION, ...OUTPUT_OPTIONS],
  examples: [
    {
      about: 'a run that leaves its record',
      command:
        'pegbook reduce-points examples/first-use/fixes.csv --session examples/first-use/session.toml -o points.csv --record day.json',
    },
    { about: 'runs at a glance; a pattern of the shell names thirty', command: 'pegbook list-runs day.json' },
    {
      about: 'every column, and what is no record left out',
      command: 'pegbook list-runs day.json points.csv --on-error skip --format csv',
      exit: 1,
    },
  ],
  load: async () => (await import('./run.js')).runListRuns,
};
