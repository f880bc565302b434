import { extname, posix, relative, resolve, sep } from 'node:path';
import type { LedgerLine, LedgerOutput } from '../../records/runs/ledger.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { VerifiedJob } from '../ledger/verify-job.js';

/** What of a job is delivered. */
export interface ChosenOutputs {
  /** The run that wrote the points, its points and its record. */
  readonly run: LedgerLine;
  readonly points: LedgerOutput;
  readonly record: LedgerOutput;
  /** Other outputs as they stand, each with the run that wrote it, in the order of the ledger. */
  readonly others: readonly { readonly line: LedgerLine; readonly output: LedgerOutput }[];
}

/**
 * The points of a job, what they rest on, and everything else that its runs wrote and that still stands.
 *
 * Given: the job as verified; the file of points, or null for the last that a reduction wrote; the files to go with it, or
 * none for all; the folder those names start from. Adjusted points are delivered where they are named. Problems: delivery-without-points, delivery-without-record; usage-invalid
 * for a file that no run wrote.
 */
export function chooseOutputs(
  { standing, folder }: VerifiedJob,
  pointsFile: string | null,
  files: readonly string[],
  cwd: string,
): Outcome<ChosenOutputs> {
  const named = (path: string): string => relative(folder, resolve(cwd, path)).split(sep).join(posix.sep);
  const all = standing.flatMap(({ use, line, name }) => {
    const output = use === 'output' ? line.outputs.find((own) => own.name === name) : undefined;
    return output === undefined ? [] : [{ line, output }];
  });
  const unknown = files.find((path) => !all.some(({ output }) => output.name === named(path)));
  if (unknown !== undefined)
    return failure(
      errorProblem('usage-invalid', {
        message: `no run of the job wrote ${unknown}`,
        received: unknown,
        hint: `the job's runs wrote ${all.map(({ output }) => output.name).join(', ')}`,
      }),
    );
  const points = all.filter(({ line, output }) => isPoints(line, output));
  const chosen =
    pointsFile === null
      ? points.findLast(({ line }) => line.command === 'reduce-points')
      : points.find(({ output }) => output.name === named(pointsFile));
  if (chosen === undefined)
    return failure(
      errorProblem('delivery-without-points', {
        message:
          pointsFile === null
            ? 'no run of the job wrote points that still stand'
            : `${pointsFile} is no file of points that a run of the job wrote`,
        hint: 'pegbook reduce-points --job job.toml -o points.csv --record run.json',
      }),
    );
  const record = chosen.line.outputs.find(
    ({ role, name }) =>
      role === 'record' && all.some(({ line, output }) => line === chosen.line && output.name === name),
  );
  if (record === undefined)
    return failure(
      errorProblem('delivery-without-record', {
        message: `the run that wrote ${chosen.output.name} left no record that still stands`,
        hint: 'run it again with --record run.json and --force',
      }),
    );
  const wanted = new Set(files.map(named));
  return success({
    run: chosen.line,
    points: chosen.output,
    record,
    others: all.filter(
      ({ output }) => output !== chosen.output && output !== record && (wanted.size === 0 || wanted.has(output.name)),
    ),
  });
}

/** Points of a job: what a reduction or an adjustment wrote, in a form that they can be read from. */
function isPoints({ command }: LedgerLine, { role, name }: LedgerOutput): boolean {
  return (
    ['reduce-points', 'adjust-network'].includes(command) &&
    role === 'data' &&
    ['.csv', '.geojson'].includes(extname(name).toLowerCase())
  );
}
