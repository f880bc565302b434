import { basename, dirname, isAbsolute, relative, resolve, sep } from 'node:path';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import type { Source } from '../../../io/bytes/source.js';
import { runRecord } from '../../../io/documents/run-record.js';
import type { RowPart, RunInput, RunJob, RunModel, RunOutput, RunSetting } from '../../../io/documents/run-record.js';
import type { JobInPlace } from '../../../files/job/load-job.js';
import type { DayFlow } from '../../../files/reduction/day-flow.js';
import type { DayVariance } from '../../../records/reports/parts/day-variance.js';
import type { MethodRef } from '../../../records/runs/provenance.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { RunSummary } from '../../../records/runs/run-summary.js';
import type { ReductionSetup } from '../../../tasks/reduce/reduction-setup.js';
import type { SurveyCrew } from '../../../records/reports/parts/survey-crew.js';
import { NO_CREW, crewOfJob } from '../../../tasks/pages/survey-crew.js';
import type { AppliedEdit } from '../../../tasks/job/job-edits.js';
import { viewSettings } from '../../outputs/view-options.js';
import { flagOption, textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import type { Context } from '../context.js';
import type { Diagnostics } from '../messages/diagnostics.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { jobOf, settingsOf } from './run-log-session.js';
import { geoidModel, sayGeoid } from '../messages/say-geoid.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { VERSION } from '../../../records/runs/version.js';

/** The record as text, given the end of the run and the files that it wrote. */
export type WriteRecord = (exit: number, diagnostics: Diagnostics, outputs: readonly RunOutput[]) => string;

/** Collects what the run record says while a command runs. */
export interface RunLog {
  /** A session in force; its `[acknowledge]` counts for messages from here on. */
  session(resolved: ResolvedSession, diagnostics: Pick<Diagnostics, 'acknowledge'>): void;
  /** The files that say a job. */
  job(job: JobInPlace): void;
  /** What became of the days of a job, and of what it changes; nothing without one. */
  jobResult(
    days: readonly Pick<DayFlow, 'id' | 'totals'>[],
    variances: readonly { readonly id: string; readonly day: DayVariance | null }[],
    edits: readonly AppliedEdit[],
  ): void;
  /** After the input was read to its end. */
  input(source: Source, kind: string, rowsUsed: number, rowsRejected: number, part?: RowPart | null): void;
  /** A file that was looked at whole and has no rows. */
  file(name: string, kind: string, bytes: number, sha256: string): void;
  setting(key: string, value: RunSetting['value'], from: RunSetting['from']): void;
  /** Systems and geoid in force; what tells the geoid from another of its name is said. */
  models(setup: Pick<ReductionSetup, 'fixesSystem' | 'grid' | 'geoid'>, diagnostics: Pick<Diagnostics, 'say'>): void;
  model(kind: 'system' | 'grid', model: RunModel): void;
  method(method: MethodRef): void;
  day(day: DayVariance | null): void;
  /** Whether the occupations of each point were compared. Not called: the command has none to compare. */
  repeats(areCompared: boolean): void;
  /** What the run was about. Not called: the record says nothing of it. */
  summary(summary: RunSummary): void;
  /** The record of a finished run; null when none is asked for. */
  record(run: RunAnswer): WriteRecord | null;
  /** The record of a run that errors stopped; null when none is asked for. */
  readonly failure: WriteRecord | null;
  /** The inputs read so far. */
  readonly inputs: readonly RunInput[];
  /** Who measured and with what, of the job or of the sessions in force. */
  readonly crew: SurveyCrew;
  /** The only time a record or a page may carry; null: none is set. */
  readonly timeMs: number | null;
}

/** An empty log. */
export function createRunLog(invocation: Invocation, context: Context): RunLog {
  const wanted = textOption(invocation, 'record') !== null || flagOption(invocation, 'checkOnly');
  const settings: RunSetting[] = [...viewSettings(invocation)];
  const inRecordsFolder = fromRecordsFolder(textOption(invocation, 'record'), context.cwd);
  const inputs: RunInput[] = [];
  const systems: RunModel[] = [];
  const grids: RunModel[] = [];
  const methods: MethodRef[] = [];
  let dayFound: DayVariance | null = null;
  let areRepeatsCompared: boolean | null = null;
  let summaryFound: RunSummary | null = null;
  let jobRead: JobInPlace | null = null;
  let crew = NO_CREW;
  let jobFound: RunJob | null = null;
  const write =
    (verdict: string, verdictCounts: RunAnswer['verdicts'], reasonCounts: RunAnswer['reasons']): WriteRecord =>
    (exit, diagnostics, outputs) =>
      runRecord({
        toolVersion: VERSION,
        argv: context.argv,
        settings,
        inputs,
        systems,
        grids,
        methods,
        outputs,
        summary: summaryFound,
        problemCounts: diagnostics.counts,
        acknowledged: diagnostics.acknowledged(),
        verdict,
        verdictCounts,
        reasonCounts,
        day: dayFound,
        areRepeatsCompared,
        job: jobFound,
        exitCode: exit,
        timeMs: sourceDateMs(context),
      });
  const settingsFile = (name: string, kind: string, bytes: number, sha256: string): void => {
    inputs.push({ name, kind, encoding: 'utf-8', bytes, sha256, rowsRead: 0, rowsUsed: 0, rowsRejected: 0 });
  };
  return {
    inputs,
    get crew() {
      return crew;
    },
    timeMs: sourceDateMs(context),
    failure: wanted ? write('error', new Map(), new Map()) : null,
    record: ({ answer, verdicts, reasons }) => (wanted ? write(answer, verdicts, reasons) : null),
    file: settingsFile,
    setting(key, value, from) {
      settings.push({ key, value, from });
    },
    repeats(areCompared) {
      areRepeatsCompared = areCompared;
    },
    day(day) {
      dayFound = day;
    },
    summary(summary) {
      summaryFound = summary;
    },
    method(method) {
      methods.push(method);
    },
    job(job) {
      jobRead = job;
      crew = crewOfJob(job.job);
      for (const { name, kind, bytes, sha256 } of job.sources) settingsFile(basename(name), kind, bytes, sha256);
    },
    jobResult(days, variances, edits) {
      if (jobRead !== null) jobFound = jobOf(jobRead, days, variances, edits);
    },
    session(resolved, diagnostics) {
      diagnostics.acknowledge(resolved.session.acknowledge);
      // A job says it of all its days.
      if (jobRead === null) ({ crew } = resolved);
      pushAll(settings, settingsOf(resolved).map(inRecordsFolder));
      const { file, sources } = resolved;
      if (file !== null) settingsFile(basename(file.name), 'session', file.bytes, file.sha256);
      // A session file by itself has no other sources.
      for (const { name, kind, bytes, sha256 } of sources ?? []) settingsFile(basename(name), kind, bytes, sha256);
    },
    input(source, kind, rowsUsed, rowsRejected, part = null) {
      inputs.push(inputOf(source, kind, rowsUsed, rowsRejected, part));
    },
    models({ fixesSystem, grid, geoid }, diagnostics) {
      systems.push({ role: 'fixes', name: named(fixesSystem), definition: null, sha256: null });
      if (grid !== null)
        systems.push({ role: 'grid', name: named(grid), definition: grid.definition.proj4, sha256: null });
      if (geoid === null) return;
      sayGeoid(geoid, diagnostics, grids);
      grids.push(geoidModel(geoid));
    },
    model(kind, model) {
      (kind === 'system' ? systems : grids).push(model);
    },
  };
}

function inputOf(source: Source, kind: string, rowsUsed: number, rowsRejected: number, part: RowPart | null): RunInput {
  return {
    ...source.digest(),
    kind,
    encoding: source.encoding(),
    rowsRead: rowsUsed + rowsRejected,
    rowsUsed,
    rowsRejected,
    ...(part !== null && { part }),
  };
}

/**
 * A setting as the record has it: where the folders of this machine are is nobody's business, so that a path that begins at their root begins
 * at the folder of the record, or with no file of it where the run is started.
 */
function fromRecordsFolder(record: string | null, cwd: string): (setting: RunSetting) => RunSetting {
  const folder = record === null || record === '-' ? cwd : dirname(resolve(cwd, record));
  return (setting) => {
    const { key, value } = setting;
    if (!key.endsWith(GEOID_SETTING) || typeof value !== 'string' || !isAbsolute(value)) return setting;
    return { ...setting, value: relative(folder, value).replaceAll(sep, '/') };
  };
}

/** Of a day of a job, after its name. */
const GEOID_SETTING = 'height.geoid';

function named(system: { readonly code: string | null; readonly name: string }): string {
  return system.code === null ? system.name : `${system.code} ${system.name}`;
}

/** 9999-12-31T23:59:59Z, the last time that ISO 8601 writes with four digits of year. */
const LAST_SECOND = 253_402_300_799;

/** SOURCE_DATE_EPOCH, the only time a record may carry; null also where it is no such time. */
function sourceDateMs(context: Context): number | null {
  // No text is no number.
  const seconds = parseDecimal(context.env['SOURCE_DATE_EPOCH'] ?? '');
  return seconds === null || !Number.isInteger(seconds) || seconds < 0 || seconds > LAST_SECOND ? null : seconds * 1000;
}
