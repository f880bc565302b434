import { relative, resolve } from 'node:path';
import type { JobInPlace } from '../../files/job/load-job.js';
import { entryAt } from '../../records/present.js';
import { isGiven, textOption } from '../shell/command-spec.js';
import type { CommandRun, Invocation, OptionName, OptionValue } from '../shell/command-spec.js';
import { withWorkbench } from '../shell/workbench.js';
import { jobFromOption } from './job-option.js';

/** What a job gives an option that is not given: a text; null: nothing. */
export interface JobFill {
  readonly option: OptionName;
  readonly of: (job: JobInPlace, path: (name: string) => string) => string | null;
  /** Options beside which it is not filled: they say the same in another way. */
  readonly unless: readonly OptionName[];
  /** Options of which one must be given for it to be filled; absent: none must. */
  readonly beside?: readonly OptionName[];
}

/** The files that a job names. */
export const CONTROL_OF_JOB: JobFill = fileFill('control', []);
export const DESIGN_OF_JOB: JobFill = fileFill('design', ['register']);
export const LIMITS_OF_JOB: JobFill = fileFill('limits', ['limitHorizontal', 'limitVertical', 'standard', 'register']);

/** The system and the geoid of its first day, for a command that takes no session. */
export const SYSTEM_OF_JOB: JobFill = {
  option: 'from',
  unless: [],
  of: ({ job }) => entryAt(job.days, 0).session.system?.grid ?? null,
};
export const GEOID_OF_JOB: JobFill = {
  option: 'geoid',
  unless: [],
  beside: ['fromHeight', 'toHeight'],
  of({ job }, path) {
    const { geoid } = entryAt(job.days, 0).session.height;
    return geoid === null || geoid === 'egm96' ? geoid : path(geoid);
  },
};

function fileFill(option: keyof JobInPlace['job']['files'], unless: readonly OptionName[]): JobFill {
  return {
    option,
    unless,
    of({ job }, path) {
      const name = job.files[option];
      return name === null ? null : path(name);
    },
  };
}

/**
 * A command whose options are filled from the job of --job, where they are not given; without --job it runs as it is. Paths of the
 * job start from its folder. A job that cannot be read ends the run as any settings do.
 */
export function withJob(run: CommandRun, fills: readonly JobFill[]): CommandRun {
  return async (invocation, context) => {
    if (textOption(invocation, 'job') === null) return run(invocation, context);
    const job = await jobFromOption(invocation, context.cwd, [['session', '--session']], true);
    if (!job.ok || job.value === null)
      return withWorkbench(invocation, context, [], (bench) => {
        bench.take(job);
        return Promise.resolve({ exit: 0, record: null, reasons: new Set<string>() });
      });
    return run(filled(invocation, job.value, fills, context.cwd), context);
  };
}

function filled(invocation: Invocation, job: JobInPlace, fills: readonly JobFill[], cwd: string): Invocation {
  const path = (name: string): string => relative(cwd, resolve(job.folder, name));
  const options: Partial<Record<OptionName, OptionValue>> = { ...invocation.options };
  const given = (name: OptionName): boolean => isGiven(invocation, name);
  for (const { option, of, unless, beside } of fills) {
    const isAsked = ![option, ...unless].some(given) && (beside?.some(given) ?? true);
    const value = isAsked ? of(job, path) : null;
    if (value !== null) options[option] = value;
  }
  return { ...invocation, options };
}
