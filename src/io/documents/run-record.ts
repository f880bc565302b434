import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import type { FileDigest, MethodRef } from '../../records/runs/provenance.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { RunSummary } from '../../records/runs/run-summary.js';
import { dayVarianceJson } from './day-variance-json.js';
import { runSummaryJson } from './run-summary-json.js';

/** An input and what became of its rows. */
export interface RunInput extends FileDigest {
  /** What it was read as: `csv`, `nmea`, `geojson`, `session`, … */
  readonly kind: string;
  readonly encoding: string | null;
  readonly rowsRead: number;
  readonly rowsUsed: number;
  readonly rowsRejected: number;
  /** Set where only a part of the rows was asked for; the counts are then of these rows. */
  readonly part?: RowPart;
}

/** Rows of a file, from 1, both included. */
export interface RowPart {
  readonly rowFrom: number;
  readonly rowTo: number;
  /** True where no row comes after them. */
  readonly reachesEnd: boolean;
}

/** A file that a run wrote, and what it was asked for with: `output`, `epochs`, `report`, … */
export interface RunOutput extends FileDigest {
  readonly role: string;
}

/** A warning that the session says is known, why, and how often it came. */
export interface AcknowledgedWarning {
  readonly code: ProblemCode;
  readonly reason: string;
  readonly count: number;
}

/** A setting in force, and where it came from. */
export interface RunSetting {
  /** Dotted key, as in the session file. */
  readonly key: string;
  readonly value: string | number | boolean | null | readonly string[];
  readonly from: 'command line' | 'session file' | 'default';
}

/** A system or grid that numbers depend on. */
export interface RunModel {
  readonly role: string;
  readonly name: string;
  /** Definition in full, where there is one. */
  readonly definition: string | null;
  readonly sha256: string | null;
  /** Of a geoid: one value of the grid, by which it is told from another of its name. */
  readonly test?: string | null;
}

/** What a record says of a job: its days, and what it changed of what was measured. */
export interface RunJob {
  readonly days: readonly {
    readonly id: string;
    /** Null: not stated. */
    readonly date: string | null;
    readonly verdictCounts: ReadonlyMap<string, number>;
    /** Null: not asked for, or nothing to say. */
    readonly day: DayVariance | null;
  }[];
  readonly excluded: readonly RunEdit[];
  readonly renamed: readonly RunEdit[];
}

/** Names as in the job file; `count` of occupations left out, or of epochs renamed. */
export interface RunEdit {
  readonly names: Readonly<Record<string, string | null>>;
  readonly reason: string;
  readonly count: number;
}

/** Everything a run record says. */
export interface RunRecordInput {
  readonly toolVersion: string;
  readonly argv: readonly string[];
  readonly settings: readonly RunSetting[];
  readonly inputs: readonly RunInput[];
  readonly systems: readonly RunModel[];
  readonly grids: readonly RunModel[];
  readonly methods: readonly MethodRef[];
  readonly outputs: readonly RunOutput[];
  /** Null: the command says nothing of it. */
  readonly summary: RunSummary | null;
  readonly acknowledged?: readonly AcknowledgedWarning[];
  readonly problemCounts: ReadonlyMap<ProblemCode, number>;
  /** `within`, `review` or `no`; `error` for a run that errors stopped. */
  readonly verdict: string;
  /** Rows by the word of their verdict, and by each reason. */
  readonly verdictCounts: ReadonlyMap<string, number>;
  readonly reasonCounts: ReadonlyMap<string, number>;
  /** Null: no repeats that say anything of the day. */
  readonly day?: DayVariance | null;
  /** Whether the occupations of each point were compared; null or absent: nothing to compare. */
  readonly areRepeatsCompared?: boolean | null;
  /** Null or absent: no job. */
  readonly job?: RunJob | null;
  readonly exitCode: number;
  /** From SOURCE_DATE_EPOCH, milliseconds since 1970-01-01T00:00:00Z; null: no time is written. */
  readonly timeMs: number | null;
}

/** Name and version of the form of the run record; the version rises when a member changes its meaning or goes. */
export const RUN_RECORD_SCHEMA = 'pegbook-run-record';
export const RUN_RECORD_VERSION = 2;

/**
 * The run record as JSON text: the same input gives the same bytes. The members are in docs/file-formats.md.
 * Order: settings by key, problem codes and reasons by name, everything else as given.
 */
export function runRecord(run: RunRecordInput): string {
  const settings = [...run.settings].sort((a, b) => compare(a.key, b.key));
  const counts = [...run.problemCounts].sort(([a], [b]) => compare(a, b));
  const record = {
    schema: RUN_RECORD_SCHEMA,
    version: RUN_RECORD_VERSION,
    tool_version: run.toolVersion,
    ...(run.timeMs !== null && { time_utc: formatUtc(run.timeMs) }),
    argv: run.argv,
    settings: settings.map(({ key, value, from }) => ({ key, value, from })),
    inputs: run.inputs.map((input) => ({
      name: input.name,
      kind: input.kind,
      bytes: input.bytes,
      sha256: input.sha256,
      encoding: input.encoding,
      rows_read: input.rowsRead,
      rows_used: input.rowsUsed,
      rows_rejected: input.rowsRejected,
      ...(input.part !== undefined && {
        row_from: input.part.rowFrom,
        row_to: input.part.rowTo,
        reaches_end: input.part.reachesEnd,
      }),
    })),
    systems: run.systems.map(model),
    grids: run.grids.map(model),
    methods: run.methods.map(({ id, name, source, accuracyM, origin }) => ({
      id,
      name,
      source: source ?? null,
      ...(accuracyM !== undefined && { accuracy_m: accuracyM }),
      ...(origin !== undefined && { origin }),
    })),
    outputs: run.outputs.map(({ name, role, bytes, sha256 }) => ({ name, role, bytes, sha256 })),
    problems: Object.fromEntries(counts),
    ...(run.acknowledged !== undefined && run.acknowledged.length > 0 && { acknowledged: run.acknowledged }),
    verdict: run.verdict,
    verdict_counts: Object.fromEntries(run.verdictCounts),
    reason_counts: Object.fromEntries([...run.reasonCounts].sort(([a], [b]) => compare(a, b))),
    ...(run.areRepeatsCompared != null && { repeats_compared: run.areRepeatsCompared }),
    ...(run.summary !== null && { summary: runSummaryJson(run.summary) }),
    ...(run.day != null && { day_variance: dayVarianceJson(run.day) }),
    ...(run.job != null && { job: jobJson(run.job) }),
    exit_code: run.exitCode,
  };
  return `${JSON.stringify(record, null, 2)}\n`;
}

function jobJson({ days, excluded, renamed }: RunJob): unknown {
  const edit = ({ names, reason, count }: RunEdit): unknown => ({ ...names, reason, count });
  return {
    days: days.map(({ id, date, verdictCounts, day }) => ({
      id,
      date,
      verdict_counts: Object.fromEntries(verdictCounts),
      ...(day !== null && { day_variance: dayVarianceJson(day) }),
    })),
    excluded: excluded.map(edit),
    renamed: renamed.map(edit),
  };
}

function model({ role, name, definition, sha256, test }: RunModel): RunModel {
  return { role, name, definition, sha256, ...(test !== undefined && { test }) };
}

function compare(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
