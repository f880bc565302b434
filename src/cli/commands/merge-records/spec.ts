import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, DOCUMENT_OPTIONS } from '../../shell/shared-options.js';

/** `pegbook merge-records` */
export const mergeRecordsSpec: CommandSpec = {
  name: 'merge-records',
  summary: 'the run records of parts, put together to the record of the whole',
  description: [
    'Runs over rows A:B of one file, or over files of their own, each leave a run record. This adds them up, and refuses',
    'parts that were run with other settings, overlap, leave rows out, or ended in an error. The answer is a run record',
    'itself, always JSON, and the exit code is that of the whole.',
  ],
  arguments: [{ name: '<records...>', description: 'files that --record wrote' }],
  options: [CHECK_ONLY_OPTION, ...DOCUMENT_OPTIONS],
  examples: [
    {
      about: 'the first rows of the invented day; another machine could take the others at once',
      command:
        'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml --rows :1400 -o part-1.csv --record part-1.json',
      exit: 1,
    },
    {
      about: 'the rest of its rows',
      command:
        'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml --rows 1401: --omit-header -o part-2.csv --record part-2.json',
      exit: 1,
    },
    { about: 'the record of the day', command: 'pegbook merge-records part-1.json part-2.json -o day.json', exit: 1 },
  ],
  load: async () => (await import('./run.js')).runMergeRecords,
};
