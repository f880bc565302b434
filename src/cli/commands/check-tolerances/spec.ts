import { STANDARDS } from '../../../core/quality/standards/standards.js';
import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  REPORT_OPTION,
  JOB_OPTION,
  MANIFEST_OPTIONS,
  SESSION_OPTION,
  SYSTEM_OPTION,
  VARIANCE_FACTOR_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook check-tolerances` */
export const checkTolerancesSpec: CommandSpec = {
  name: 'check-tolerances',
  summary: 'is it within tolerance: control, repeats, design and standards, and the likely cause when it is not',
  description: [
    'Compares points with control, their repeats or a design, judges each difference by its limit and its uncertainty, says',
    'what a standard lets one say, and searches for the one cause where control does not hold. Residuals go to the output, the',
    'rest to standard error.',
  ],
  arguments: [
    { name: '[points]', description: 'CSV or GeoJSON file of points, as reduce-points writes it; - is standard input' },
  ],
  options: [
    SESSION_OPTION,
    JOB_OPTION,
    SYSTEM_OPTION,
    ...GEOID_OPTIONS,
    { flags: '--control <file>', description: 'known points; those of role fit do not count' },
    { flags: '--design <file>', description: 'design points with tolerance_horizontal_m and tolerance_vertical_m' },
    {
      flags: '--control-columns <map>',
      description: "our names for the control file's, NAME=HEADER,... as with --columns",
      kind: 'list',
    },
    { flags: '--design-columns <map>', description: 'the same for the design file', kind: 'list' },
    { flags: '--line', description: 'the design is a line through its points in order', kind: 'flag' },
    { flags: '--repeats', description: 'compare occupations of the same point', kind: 'flag' },
    {
      flags: '--same-place <metres>',
      description: 'with --repeats: the same point is what lies within this distance, whatever its name',
      kind: 'number',
    },
    {
      flags: '--register',
      description:
        'with --job: each control point over the days, its mean, spread, trend and control chart, and which mark or base began to move',
      kind: 'flag',
    },
    {
      flags: '--fixes <file>',
      description: 'count raw fixes by the acceptance limits of the session or standard, without reducing',
    },
    {
      flags: '--limits <file>',
      description: 'limits as rules (TOML): constant, proportion, root of distance, floor, cap',
    },
    { flags: '--limit-horizontal <metres>', description: 'limit of the horizontal difference', kind: 'number' },
    { flags: '--limit-vertical <metres>', description: 'limit of the height difference', kind: 'number' },
    {
      flags: '--limits-from-session',
      description: 'take the tolerance of the session as limit in plan and in height',
      kind: 'flag',
    },
    VARIANCE_FACTOR_OPTION,
    {
      flags: '--standard <name>',
      description: 'a published standard, or list to see what each asks',
      suggests: [...STANDARDS.map(({ id }) => id), 'list'],
    },
    {
      flags: '--nominal-distance <metres>',
      description: 'iso-17123-8: known distance between the two rover points',
      kind: 'number',
    },
    {
      flags: '--nominal-height-difference <metres>',
      description: 'ISO 17123-8: the known height of point 2 over point 1, positive upwards',
      kind: 'number',
    },
    {
      flags: '--sigma-horizontal <metres>',
      description: 'iso-17123-8: predetermined sigma of the horizontal position',
      kind: 'number',
    },
    {
      flags: '--sigma-vertical <metres>',
      description: 'iso-17123-8: predetermined sigma of the height',
      kind: 'number',
    },
    { flags: '--campaign <file>', description: 'iso-17123-8: an earlier campaign to compare with' },
    {
      flags: '--junit <file>',
      isWritten: true,
      description: 'write the verdicts as JUnit XML, one test case a point and check',
    },
    { flags: '--vectors <file>', isWritten: true, description: 'write the residuals as GeoJSON lines, enlarged' },
    {
      flags: '--vector-scale <factor>',
      description: 'how much the lines of --vectors are enlarged (default 1000)',
      kind: 'number',
    },
    {
      flags: '--explain <point>',
      description: 'work the comparisons of one point through: difference, uncertainty, statistic, limits and verdict',
    },
    REPORT_OPTION,
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
    ...MANIFEST_OPTIONS,
  ],
  examples: [
    {
      about: 'the repeats of the invented day: a wrong integer and a pole length come out',
      command:
        'pegbook check-tolerances examples/quillback-pan-check/points.csv --session examples/quillback-pan/session.toml --repeats',
      exit: 1,
    },
    {
      about: 'control against fixed limits, with a file for continuous integration',
      command:
        'pegbook check-tolerances examples/quillback-pan-check/points.csv --session examples/quillback-pan/session.toml --control examples/quillback-pan/control.csv --limit-horizontal 0.10 --limit-vertical 0.20 --junit verdicts.xml',
    },
    {
      about: 'when a mark or the base began to move, over the days of a job',
      command:
        'pegbook check-tolerances examples/quillback-pan-days/expected-points.csv --job examples/quillback-pan-days/job.toml --register',
      exit: 1,
    },
    {
      about: 'what each standard asks, and where that comes from',
      command: 'pegbook check-tolerances --standard list',
    },
  ],
  cautions: [
    'Agreement with control that depends on the same base proves little: check on control independent of it, before and after.',
    'A likely cause is a lead, not a proof. Never correct coordinates by it without confirming it in the field.',
    'Structures, drainage, flood levels and boundaries need independent checks and the person responsible for them.',
  ],
  load: async () => {
    const [{ runCheckTolerances }, job] = await Promise.all([
      import('./run.js'),
      import('../../inputs/run-with-job.js'),
    ]);
    return job.withJob(runCheckTolerances, [job.CONTROL_OF_JOB, job.DESIGN_OF_JOB, job.LIMITS_OF_JOB]);
  },
};
