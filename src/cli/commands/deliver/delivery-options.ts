import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';

/** The job, and where its delivery goes. Problems stop the run: usage-invalid without either, usage-conflict for standard output. */
export function deliveryAsked(bench: Workbench): { readonly job: string; readonly output: string } {
  const job = needed(bench, 'job', '--job', 'job.toml');
  const output = needed(bench, 'output', '--output', 'a folder, or a file that ends in .zip');
  if (output === '-')
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: 'a delivery is many files, and --output says standard output',
          hint: 'name a folder, or a file that ends in .zip',
        }),
      ),
    );
  return { job, output };
}

function needed(bench: Workbench, name: 'job' | 'output', flag: string, expected: string): string {
  const value = textOption(bench.invocation, name);
  return bench.take(
    value === null
      ? failure(
          errorProblem('usage-invalid', { message: `${flag} is needed`, expected, hint: `give ${flag} ${expected}` }),
        )
      : { ok: true, value, problems: [] },
  );
}
