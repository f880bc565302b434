import type { ComparedRun } from '../../../../files/reduction/compare-run.js';
import type { DayFlow } from '../../../../files/reduction/day-flow.js';
import { pushAll } from '../../../../core/numeric/push-all.js';
import { entryAt } from '../../../../records/present.js';
import { locateProblem } from '../../../../records/problem.js';
import type { DayVariance } from '../../../../records/reports/parts/day-variance.js';
import type { PrecisionSettings } from '../../../../records/session.js';
import { editLines } from '../../../../tasks/job/job-edits.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import { dayLines, dayUnchanged } from '../../../../tasks/repeats/day-of-repeats.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { ReducedRun } from '../finish-run.js';
import { tiltAzimuthUnstated } from '../options/reduction-rover-check.js';
import { baseNotes } from './reduction-base-notes.js';
import { shiftNotes } from './reduction-shift-notes.js';
import { reductionSummary } from './reduction-summary.js';

const TO_COUNT = '--variance-factor estimated counts it';
/** Repeats from day to day are in no factor of one day, which is what the option knows in a job. */
const OF_SEVERAL =
  'of several days, while --variance-factor estimated knows each day by itself: look first for the set-up or the pole that one of them has wrong';

/**
 * Says what a run found. `setup`: of the run, or of all days of a job. Returned: what it says of noisy days, and of what the job
 * left out or renamed, for the page.
 * `isSaid`: whether the summary is wanted; the explanation of a point stands by itself.
 */
export function sayReduction(
  { diagnostics }: Workbench,
  { run, flow, skipped }: ReducedRun,
  found: ComparedRun | null,
  setup: ReductionSetup,
  isSaid: boolean,
): { readonly day: readonly string[]; readonly edits: readonly string[] } {
  const { asked, days, edits } = run;
  for (const [index, own] of flow.days.entries()) {
    const unstated = tiltAzimuthUnstated(entryAt(days, index).resolved.session, own.totals);
    if (unstated !== null)
      diagnostics.report([own.id === null ? unstated : locateProblem(unstated, { path: `day ${own.id}` })]);
  }
  const { precision } = entryAt(days, 0).resolved.session;
  const noise = noiseOf(found, precision, asked.isEstimated, days.length > 1);
  const edited = edits === null ? [] : editLines(edits.applied());
  const notes = [...baseNotes(setup, flow.totals), ...shiftNotes(setup, flow.totals)];
  if (skipped > 0)
    notes.push(`${skipped} ${skipped === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`);
  pushAll(notes, noise.unchanged);
  pushAll(notes, edited);
  if (!isSaid) return { day: noise.noisy, edits: edited };
  for (const line of flow.days.flatMap(dayCount)) diagnostics.say(line);
  for (const line of noise.noisy) diagnostics.say(line);
  // A part of the rows compares nothing.
  for (const line of reductionSummary(flow.totals, found?.repeats ?? [], notes)) diagnostics.say(line);
  return { day: noise.noisy, edits: edited };
}

/** What a day of a job has; none without a job. */
function dayCount({ id, totals: { points } }: DayFlow): readonly string[] {
  if (id === null) return [];
  const all = points.accepted + points.review + points.rejected;
  return [
    `day ${id}: ${all} ${all === 1 ? 'occupation' : 'occupations'}: ${points.accepted} accepted, ${points.review} for review, ${points.rejected} rejected`,
  ];
}

/** Lines of days noisier than their model, and of why a factor that was asked for changed nothing. */
function noiseOf(
  found: ComparedRun | null,
  precision: PrecisionSettings,
  isEstimated: boolean,
  areSeveral: boolean,
): { readonly noisy: readonly string[]; readonly unchanged: readonly string[] } {
  const said: readonly (readonly [string, DayVariance | null])[] =
    found === null || found.days.length === 0
      ? [['', found?.day ?? null]]
      : found.days.map(({ id, day }) => [`day ${id}: `, day]);
  return {
    noisy: said.flatMap(([head, day]) => {
      const isOfSeveral = areSeveral && head === '';
      const lines = isOfSeveral
        ? dayLines(day, precision, OF_SEVERAL, undefined, 'the days together were')
        : dayLines(day, precision, TO_COUNT);
      return lines.map((line) => `${head}${line}`);
    }),
    unchanged: !isEstimated
      ? []
      : said.flatMap(([head, day]) => {
          const why = dayUnchanged(day, precision);
          return why === null ? [] : [`${head}${why}`];
        }),
  };
}
