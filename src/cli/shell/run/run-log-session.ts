import type { JobInPlace } from '../../../files/job/load-job.js';
import type { DayFlow } from '../../../files/reduction/day-flow.js';
import type { RunEdit, RunJob, RunSetting } from '../../../io/documents/run-record.js';
import { entryAt } from '../../../records/present.js';
import type { DayVariance } from '../../../records/reports/parts/day-variance.js';
import type { AppliedEdit } from '../../../tasks/job/job-edits.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';

/** The settings of a session as a record lists them; those of a day of a job begin with its name. */
export function settingsOf({ session, origins, day }: ResolvedSession): readonly RunSetting[] {
  const head = day === undefined ? '' : `day.${day}.`;
  const said = (key: string): RunSetting['from'] =>
    origins[key] === undefined ? 'default' : origins[key] === 'command line' ? 'command line' : 'session file';
  const { system, height, rover, acceptance, precision, tolerance } = session;
  return [
    ...flat({ system, height, rover, acceptance, precision, tolerance }).map(([key, value]): RunSetting => ({
      key: `${head}${key}`,
      value,
      from: said(key),
    })),
    // Free text, of which there is nothing to say where it is not given.
    ...Object.entries(session.fieldwork).flatMap(([key, value]): readonly RunSetting[] =>
      value === null ? [] : [{ key: `${head}fieldwork.${snake(key)}`, value, from: said(`fieldwork.${snake(key)}`) }],
    ),
    // What a base inherits is in its sigmas.
    ...session.bases.flatMap(({ inherited: _, ...base }, index) =>
      flat(base, `${head}base.${setUpName(session.bases, index)}`).map(([key, value]): RunSetting => ({
        key,
        value,
        from: 'session file',
      })),
    ),
  ];
}

/** The id of a base; of each set-up after the first that has it, with its number: `B1#2`. */
function setUpName(bases: ResolvedSession['session']['bases'], index: number): string {
  const { id } = entryAt(bases, index);
  const before = bases.slice(0, index).filter((other) => other.id === id).length;
  return before === 0 ? id : `${id}#${String(before + 1)}`;
}

/** What a record says of a job: its days in their order, and what each edit changed. */
export function jobOf(
  { job }: JobInPlace,
  days: readonly Pick<DayFlow, 'id' | 'totals'>[],
  variances: readonly { readonly id: string; readonly day: DayVariance | null }[],
  edits: readonly AppliedEdit[],
): RunJob {
  return {
    days: days.map(({ totals }, index) => {
      const { id, date } = entryAt(job.days, index);
      return {
        id,
        date,
        verdictCounts: new Map(Object.entries(totals.points)),
        day: variances[index]?.day ?? null,
      };
    }),
    excluded: edits.flatMap((entry) => {
      if (entry.kind !== 'exclude') return [];
      const { point, day, occupation } = entry.edit;
      return [editOf(entry, { point, day, occupation })];
    }),
    renamed: edits.flatMap((entry) => {
      if (entry.kind !== 'rename') return [];
      const { from, to, day } = entry.edit;
      return [editOf(entry, { from, to, day })];
    }),
  };
}

function editOf({ edit: { reason }, count }: AppliedEdit, names: RunEdit['names']): RunEdit {
  return { names, reason, count };
}

/** Leaves of nested settings as dotted snake-case keys. */
function flat(value: unknown, path = ''): readonly (readonly [string, RunSetting['value']])[] {
  if (value === null || typeof value === 'number' || typeof value === 'string' || typeof value === 'boolean')
    return path === '' ? [] : [[path, value]];
  if (Array.isArray(value)) return [[path, value.map(String)]];
  if (typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]: [string, unknown]) =>
    flat(inner, path === '' ? snake(key) : `${path}.${snake(key)}`),
  );
}

function snake(name: string): string {
  return name.replace(/[A-Z]/gu, (letter) => `_${letter.toLowerCase()}`);
}
