import { failure } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { colourFor } from '../shell/messages/colour.js';
import { flagOption, isGiven, numberOption, textOption } from '../shell/command-spec.js';
import type { CommandSpec, Invocation } from '../shell/command-spec.js';
import type { Context } from '../shell/context.js';
import { createDiagnostics } from '../shell/messages/diagnostics.js';
import type { Diagnostics } from '../shell/messages/diagnostics.js';
import { EXIT_CODES, exitCodeFor } from '../shell/exit-codes.js';
import { InterruptedError } from '../shell/run/stop.js';
import { entryOptions } from './entry-options.js';
import { loadManifest } from './load-manifest.js';
import type { Manifest } from './load-manifest.js';
import { runEntry } from './run-entry.js';

/** Options beside those of files that say nothing for many runs. */
const OF_ONE_RUN: ReadonlySet<string> = new Set(['explain', 'format']);

/** Of a status, where it goes. */
const OF_STATUS: ReadonlySet<string> = new Set(['output', 'record', 'problems', 'format']);

/** Runs the entries of a manifest that are asked for; returns the exit code. */
export async function runManifest(spec: CommandSpec, invocation: Invocation, context: Context): Promise<number> {
  const diagnostics = createDiagnostics(context, {
    quiet: flagOption(invocation, 'quiet'),
    verbose: flagOption(invocation, 'verbose'),
    colour: colourFor(context, invocation.options.color !== false),
    json: false,
  });
  const stopped = (problems: readonly Problem[]): number => {
    diagnostics.report(problems);
    diagnostics.close(new Set());
    return exitCodeFor(problems);
  };
  const refused = conflict(spec, invocation);
  if (refused !== null) return stopped([refused]);
  const loaded = await loadManifest(spec, textOption(invocation, 'manifest') as string, invocation, context);
  if (!loaded.ok) return stopped(loaded.problems);
  diagnostics.report(loaded.problems);
  const manifest = loaded.value;
  if (flagOption(invocation, 'count')) {
    context.stdout.write(`${String(manifest.entries.length)}\n`);
    return EXIT_CODES.done.code;
  }
  if (flagOption(invocation, 'status')) {
    const { manifestStatus } = await import('./manifest-status.js');
    return manifestStatus(spec, manifest, invocation, context);
  }
  const index = numberOption(invocation, 'index');
  if (index === null) return runAll(spec, manifest, context, diagnostics);
  const entry = manifest.entries[index - 1];
  if (entry === undefined) return stopped(failure(beyond(index, manifest)).problems);
  return (await runEntry(spec, manifest, entry, context, diagnostics)).exit;
}

/** All entries in turn: what one ends with does not stop the next. */
async function runAll(
  spec: CommandSpec,
  manifest: Manifest,
  context: Context,
  diagnostics: Diagnostics,
): Promise<number> {
  const ended = { run: 0, kept: 0, failed: 0 };
  let exit: number = EXIT_CODES.done.code;
  for (const entry of manifest.entries) {
    if (context.signal.aborted) throw new InterruptedError('interrupted');
    const run = await runEntry(spec, manifest, entry, context, diagnostics);
    ended[run.isKept ? 'kept' : run.exit > EXIT_CODES.no.code ? 'failed' : 'run'] += 1;
    exit = Math.max(exit, run.exit);
  }
  diagnostics.say(
    `${manifest.name}: ${counted(manifest.entries.length)}: ${String(ended.run)} run, ${String(ended.kept)} done before, ${String(ended.failed)} failed`,
  );
  return exit;
}

/** Options that cannot stand together. */
function conflict(spec: CommandSpec, invocation: Invocation): Problem | null {
  const name = textOption(invocation, 'manifest');
  if (name === null)
    return errorProblem('usage-conflict', {
      message: '--index, --count and --status are of a manifest, and none is given',
      hint: 'give --manifest FILE',
    });
  const [typed] = invocation.args;
  if (typed !== undefined)
    return errorProblem('usage-conflict', {
      message: `the manifest names the inputs of ${spec.name}, and ${typed} is given too`,
      hint: 'leave one of the two out',
    });
  const isStatus = flagOption(invocation, 'status');
  const alone = entryOptions(spec).find(
    ({ name: own, key, isWritten }) =>
      (isWritten || OF_ONE_RUN.has(own)) && isGiven(invocation, key) && !(isStatus && OF_STATUS.has(own)),
  );
  if (alone !== undefined)
    return errorProblem('usage-conflict', {
      message: `${alone.long} is of one run, and a manifest is of many`,
      hint: `give the manifest a column ${alone.name}`,
    });
  const chosen = (['index', 'count', 'status'] as const).filter((option) => isGiven(invocation, option));
  if (chosen.length > 1)
    return errorProblem('usage-conflict', {
      message: `${chosen.map((option) => `--${option}`).join(' and ')} ask for different things`,
      hint: '--index runs an entry, --count says how many there are, --status how they stand',
    });
  return null;
}

function beyond(index: number, { name, entries }: Manifest): Problem {
  return errorProblem('usage-invalid', {
    message: `--index ${String(index)}: ${name} has ${counted(entries.length)}`,
    received: String(index),
    expected: `1 to ${String(entries.length)}`,
    hint: `entries are counted from 1, without comments and blank lines: give 1 to ${String(entries.length)}; of a scheduler that counts from 0, one more than its number`,
  });
}

function counted(entries: number): string {
  return `${String(entries)} ${entries === 1 ? 'entry' : 'entries'}`;
}
