import { errorProblem } from '../../../records/problem.js';
import { flagOption, textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import type { Context } from '../context.js';
import type { Diagnostics } from '../messages/diagnostics.js';
import { EXIT_CODES } from '../exit-codes.js';
import type { WriteRecord } from './run-log.js';
import { StopError } from './stop.js';

/** Members of a run record that say what a run would take; what it would find is left out. */
const IN_FORCE = ['tool_version', 'argv', 'settings', 'inputs', 'systems', 'grids', 'methods', 'problems'] as const;

/** Whether the run is to check its inputs and settings alone. A record or a page is of a run, and refused then. Problems stop the run. */
export function isCheckOnly(invocation: Invocation): boolean {
  if (!flagOption(invocation, 'checkOnly')) return false;
  const asked = (['record', 'report'] as const).find((name) => textOption(invocation, name) !== null);
  if (asked !== undefined)
    throw new StopError([
      errorProblem('usage-conflict', {
        message: `--${asked} is of a run, and with --check-only there is none`,
        hint: 'leave one of the two out; what is in force is printed',
      }),
    ]);
  return true;
}

/** The same messages without what a run says of its results. */
export function withoutResults(diagnostics: Diagnostics): Diagnostics {
  return { ...diagnostics, say: () => undefined };
}

/** Prints what is in force, from the record that the run would leave. */
export function printInForce(context: Context, record: WriteRecord | null, diagnostics: Diagnostics): void {
  if (record === null) return;
  const members = JSON.parse(record(EXIT_CODES.done.code, diagnostics, [])) as Readonly<Record<string, unknown>>;
  const kept = Object.fromEntries(IN_FORCE.map((name) => [name, members[name]]));
  context.stdout.write(`${JSON.stringify({ schema: 'pegbook-settings-in-force', version: 1, ...kept }, null, 2)}\n`);
}
