import type { FinishedInput, FinishedRun } from '../../records/runs/finished-run.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { Answer, RunAnswer } from '../../records/runs/run-answer.js';
import type { LargestFigure } from '../../records/runs/run-summary.js';
import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import { entryAt } from '../../records/present.js';

/** Members that must be the same in every part: a whole has one program, one set of settings, one set of models. */
const SAME = ['tool_version', 'settings', 'systems', 'grids', 'methods'] as const;
/** A run that ended with more than this wrote nothing. */
const LAST_WITH_OUTPUT = 1;

/** What the parts make together, as the members of a run record. */
export interface MergedRun {
  readonly record: Readonly<Record<string, unknown>>;
  readonly answer: RunAnswer;
  /** False: occupations of one point may be in different parts, and were not compared. */
  readonly isCompared: boolean;
  readonly parts: number;
  readonly rowsRead: number;
}

/**
 * Puts the records of runs together that each took a part: rows of one file, or files of their own.
 *
 * Given: the records, in any order, one at least; the words of the run that joins them; which answers end it with 1.
 * Returned: the record that one run over everything would have left, but for its words, with the parts named. Rows and
 * problems are added up, as are verdicts and reasons; the answer is the gravest of the parts.
 * Problems: record-incomplete for a part that ended in an error, for rows missing between parts or at an end;
 * record-conflict for parts that differ in program, settings, systems, grids or methods, in a file of one name, or that
 * hold the same rows twice.
 */
export function mergeRecords(
  runs: readonly FinishedRun[],
  argv: readonly string[],
  isFailing: (answer: Answer) => boolean,
): Outcome<MergedRun> {
  const [first] = runs;
  if (first === undefined) return failure(errorProblem('record-incomplete', { message: 'no record is given' }));
  for (const run of runs) {
    if (run.exitCode > LAST_WITH_OUTPUT) {
      return failure(
        errorProblem('record-incomplete', {
          message: `is of a run that ended with ${run.exitCode}: its points are not there`,
          where: { source: run.source },
          hint: 'mend what it complains of and run this part again',
        }),
      );
    }
    const differing = SAME.find((member) => JSON.stringify(run.json[member]) !== JSON.stringify(first.json[member]));
    if (differing !== undefined) {
      return failure(
        errorProblem('record-conflict', {
          message: `differs from ${first.source} in ${differing}${detail(run.json[differing], first.json[differing])}`,
          where: { source: run.source, path: differing },
          hint: 'run every part with the same program and session',
        }),
      );
    }
  }
  const inputs = mergedInputs(runs);
  if (!inputs.ok) return inputs;
  const ordered = [...runs].sort((a, b) => startOf(a) - startOf(b));
  const problems = summed(ordered.map((run) => run.problems));
  const answer: RunAnswer = {
    answer: gravestAnswer(runs.map((run) => run.answer)),
    verdicts: summed(ordered.map((run) => run.verdictCounts)),
    reasons: inOrder(summed(ordered.map((run) => run.reasonCounts))),
  };
  const record = mergedRecord(ordered, first, inputs.value, { argv, answer, problems }, isFailing);
  return success({
    record,
    answer,
    isCompared: record['repeats_compared'] !== false,
    parts: runs.length,
    rowsRead: inputs.value.reduce((sum, { rows_read: rows }) => sum + (typeof rows === 'number' ? rows : 0), 0),
  });
}

/** The members of the record of the whole. */
function mergedRecord(
  ordered: readonly FinishedRun[],
  first: FinishedRun,
  inputs: readonly Readonly<Record<string, unknown>>[],
  {
    argv,
    answer,
    problems,
  }: {
    readonly argv: readonly string[];
    readonly answer: RunAnswer;
    readonly problems: ReadonlyMap<string, number>;
  },
  isFailing: (answer: Answer) => boolean,
): Readonly<Record<string, unknown>> {
  // The files of an entry of a manifest are of that run alone.
  const { summary: _summary, entry: _entry, ...whole } = first.json;
  const { time_utc: time, ...members } = whole;
  const compared =
    'repeats_compared' in first.json
      ? { repeats_compared: ordered.length === 1 && first.json['repeats_compared'] === true }
      : {};
  const isOneTime = ordered.every((run) => run.json['time_utc'] === time);
  return {
    ...(isOneTime ? whole : members),
    argv,
    inputs,
    ...('outputs' in first.json && {
      outputs: ordered.flatMap((run) => (run.json['outputs'] as unknown[] | undefined) ?? []),
    }),
    ...mergedSummary(ordered),
    problems: Object.fromEntries(inOrder(problems)),
    verdict: answer.answer,
    verdict_counts: Object.fromEntries(answer.verdicts),
    reason_counts: Object.fromEntries(answer.reasons),
    exit_code: isFailing(answer.answer) ? 1 : 0,
    ...compared,
    parts: ordered.map((run) => ({ argv: run.argv, verdict: run.answer, exit_code: run.exitCode })),
  };
}

function summed(counts: readonly ReadonlyMap<string, number>[]): ReadonlyMap<string, number> {
  const sum = new Map<string, number>();
  for (const part of counts) for (const [word, count] of part) sum.set(word, (sum.get(word) ?? 0) + count);
  return sum;
}

function inOrder(counts: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  return new Map([...counts].sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** The first row of a run's part, to put them in the order of the file. */
function startOf(run: FinishedRun): number {
  // The record of a whole run begins at its first row.
  return run.inputs.find(({ part }) => part !== null)?.part?.rowFrom ?? 0;
}

/** The setting or model that differs first, in words. */
function detail(ours: unknown, theirs: unknown): string {
  if (!Array.isArray(ours) || !Array.isArray(theirs)) return '';
  const index = ours.findIndex((item, place) => JSON.stringify(item) !== JSON.stringify(theirs[place]));
  const one = (ours[index] ?? theirs[ours.length]) as Readonly<Record<string, unknown>> | undefined;
  const name = one?.['key'] ?? one?.['role'] ?? one?.['id'];
  return typeof name === 'string' ? `: ${name}` : '';
}

function mergedInputs(runs: readonly FinishedRun[]): Outcome<readonly Readonly<Record<string, unknown>>[]> {
  const byName = new Map<string, { readonly input: FinishedInput; readonly source: string }[]>();
  for (const run of runs) {
    for (const input of run.inputs) {
      const key = `${input.kind} ${input.name}`;
      const same = byName.get(key) ?? [];
      same.push({ input, source: run.source });
      byName.set(key, same);
    }
  }
  const merged: Readonly<Record<string, unknown>>[] = [];
  for (const found of byName.values()) {
    const one = mergedInput(found);
    if (!one.ok) return one;
    merged.push(one.value);
  }
  return success(merged);
}

function mergedInput(
  found: readonly { readonly input: FinishedInput; readonly source: string }[],
): Outcome<Readonly<Record<string, unknown>>> {
  const first = found[0]?.input;
  if (first === undefined) return success({});
  const other = found.find(({ input }) => input.sha256 !== first.sha256);
  if (other !== undefined)
    return failure(
      conflict(
        `read another ${first.name} than ${entryAt(found, 0).source}: the files have different SHA-256`,
        other.source,
      ),
    );
  if (found.every(({ input }) => input.part === null)) {
    // A file of settings is read by every part; rows are read once.
    const again = found.slice(1).find(({ input }) => input.rowsRead > 0);
    return again === undefined
      ? success(first.json)
      : failure(conflict(`holds the rows of ${first.name} a second time`, again.source));
  }
  const parts = [...found].sort((a, b) => (a.input.part?.rowFrom ?? 1) - (b.input.part?.rowFrom ?? 1));
  let next = 1;
  let reachesEnd = false;
  for (const { input, source } of parts) {
    const {
      rowFrom,
      rowTo,
      reachesEnd: isLast,
    } = input.part ?? { rowFrom: 1, rowTo: input.rowsRead, reachesEnd: true };
    if (rowFrom < next || reachesEnd)
      return failure(conflict(`holds rows of ${first.name} from ${rowFrom} on that another part holds too`, source));
    if (rowFrom > next)
      return failure(missing(`rows ${next} to ${rowFrom - 1} of ${first.name} are in no part`, source));
    next = rowTo + 1;
    reachesEnd = isLast;
  }
  if (!reachesEnd)
    return failure(
      missing(`the rows of ${first.name} from ${next} on are in no part`, entryAt(parts, parts.length - 1).source),
    );
  const sum = (of: (input: FinishedInput) => number): number =>
    parts.reduce((total, { input }) => total + of(input), 0);
  const { row_from: _from, row_to: _to, reaches_end: _end, ...members } = first.json;
  return success({
    ...members,
    rows_read: sum((input) => input.rowsRead),
    rows_used: sum((input) => input.rowsUsed),
    rows_rejected: sum((input) => input.rowsRejected),
  });
}

/** What the parts were about together; nothing where any of them does not say. Figures: the largest of each kind. */
function mergedSummary(runs: readonly FinishedRun[]): { readonly summary?: Readonly<Record<string, unknown>> } {
  const summaries = runs.flatMap(({ summary, json }) =>
    summary === null ? [] : [{ summary, json: json['summary'] as Readonly<Record<string, unknown>> }],
  );
  const [first] = summaries;
  if (first === undefined || summaries.length < runs.length) return {};
  const largest = new Map<string, LargestFigure>();
  for (const figure of summaries.flatMap(({ summary }) => summary.largest))
    if (figure.value > (largest.get(figure.figure)?.value ?? -Infinity)) largest.set(figure.figure, figure);
  const ends = (key: string): readonly string[] =>
    summaries.flatMap(({ json }) => (typeof json[key] === 'string' ? [json[key]] : [])).sort();
  return {
    summary: {
      ...first.json,
      points: summaries.reduce((sum, { summary }) => sum + summary.points, 0),
      first_epoch_utc: ends('first_epoch_utc')[0] ?? null,
      last_epoch_utc: ends('last_epoch_utc').at(-1) ?? null,
      bases: [...new Set(summaries.flatMap(({ summary }) => summary.bases))],
      largest: [...largest.values()],
    },
  };
}

function conflict(message: string, source: string): Problem {
  return errorProblem('record-conflict', { message, where: { source } });
}

function missing(message: string, source: string): Problem {
  return errorProblem('record-incomplete', {
    message,
    where: { source },
    hint: 'run the part that is missing, or name its record too',
  });
}
