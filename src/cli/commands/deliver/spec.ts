import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, DOCUMENT_OPTIONS, JOB_OPTION } from '../../shell/shared-options.js';

/** `pegbook deliver` */
export const deliverSpec: CommandSpec = {
  name: 'deliver',
  summary:
    'what a client gets of a job: coordinates, front sheet, reports, records, digests, as a folder or a ZIP file',
  description: [
    'Takes the points of the last reduction of a job, and whatever else its runs wrote, from the ledger. Writes a list of',
    'coordinates (CSV, and GeoJSON where the frame allows), a front sheet of one page with room to sign, the pages, tables and',
    'records, and the digests of everything, as a bag that sha256sum -c verifies. The same job gives the same bytes. Where',
    'verify-job would find a change nothing is delivered.',
  ],
  arguments: [],
  options: [
    JOB_OPTION,
    {
      flags: '--points <file>',
      description: 'the file of points to deliver; default: the last that a reduction wrote as CSV',
    },
    {
      flags: '--files <file>',
      description: 'deliver this output of a run beside the points, and no other (may be given again); default: all',
      kind: 'list',
    },
    CHECK_ONLY_OPTION,
    ...DOCUMENT_OPTIONS,
  ],
  examples: [
    {
      about: 'the eight invented days, reduced: a delivery is made of what runs left',
      command:
        'pegbook reduce-points --job examples/quillback-pan-days/job.toml -o points.csv --record run.json --report days.html',
      exit: 1,
    },
    {
      about: 'what the client gets, as a folder',
      command: 'pegbook deliver --job examples/quillback-pan-days/job.toml -o delivery',
    },
    {
      about: 'the same as one file',
      command: 'pegbook deliver --job examples/quillback-pan-days/job.toml -o delivery.zip',
    },
  ],
  cautions: [
    'A front sheet says what was computed. It is no legal survey, and is worth what whoever signs it has checked.',
  ],
  load: async () => (await import('./run.js')).runDeliver,
};
