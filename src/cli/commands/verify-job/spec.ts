import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, OUTPUT_OPTIONS } from '../../shell/shared-options.js';

/** `pegbook verify-job` */
export const verifyJobSpec: CommandSpec = {
  name: 'verify-job',
  summary: 'whether everything that the runs of a job read and wrote is as they left it',
  description: [
    'Every run with --job that writes a file leaves a line in job-ledger.jsonl, beside the job file: when, what, the digests of the files it',
    'read and wrote, its verdicts, and the digest of the line before. This computes all digests again and runs nothing again. It',
    'says which file changed or is missing, and which line of the ledger was altered, taken out, moved or put in.',
  ],
  arguments: [{ name: '<job>', description: 'job file (TOML)' }],
  options: [
    {
      flags: '--head <digest>',
      description:
        'a line with this digest must be there: nothing else shows that the last lines were taken off (front sheets print it)',
    },
    CHECK_ONLY_OPTION,
    ...OUTPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'the eight invented days, reduced: the run leaves a line in the ledger',
      command: 'pegbook reduce-points --job examples/quillback-pan-days/job.toml -o points.csv --record run.json',
      exit: 1,
    },
    {
      about: 'whether the job is as its runs left it',
      command: 'pegbook verify-job examples/quillback-pan-days/job.toml',
    },
    {
      about: 'the same for a script',
      command: 'pegbook verify-job examples/quillback-pan-days/job.toml --format json',
    },
  ],
  cautions: [
    'A ledger shows what changed by accident or without care. Whoever rewrites all of it and every file leaves no trace but the digest of its last line, which you have on paper.',
  ],
  load: async () => (await import('./run.js')).runVerifyJob,
};
