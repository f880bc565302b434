import { flagOption } from '../shell/command-spec.js';
import type { CommandSpec, Invocation } from '../shell/command-spec.js';
import type { Context } from '../shell/context.js';
import type { Diagnostics } from '../shell/messages/diagnostics.js';
import { entryOfRun } from './entry-files.js';
import { entryStanding } from './entry-standing.js';
import type { EntryStanding } from './entry-standing.js';
import type { Manifest, ManifestEntry } from './load-manifest.js';

/** How an entry ended. */
export interface EndedEntry {
  /** Of one that is kept: that of the run that it is kept of. */
  readonly exit: number;
  /** It was done before, and nothing was run. */
  readonly isKept: boolean;
}

/** Runs an entry in the folder of its manifest, where it is not done already or --force is given. */
export async function runEntry(
  spec: CommandSpec,
  { name, folder, entries }: Manifest,
  entry: ManifestEntry,
  context: Context,
  diagnostics: Pick<Diagnostics, 'say'>,
): Promise<EndedEntry> {
  const { invocation, words, number, output } = entry;
  const head = `${name}: entry ${String(number)} of ${String(entries.length)}, ${output}`;
  const run = await spec.load();
  const inFolder = { ...context, cwd: folder, argv: words };
  if (flagOption(invocation, 'checkOnly')) {
    diagnostics.say(head);
    return { exit: await run(withoutFiles(invocation), inFolder), isKept: false };
  }
  const standing = await entryStanding(entry, folder, context);
  if (standing.state === 'done' && standing.run !== null && !flagOption(invocation, 'force')) {
    diagnostics.say(`${head}: done before with the same files, options and program; nothing is run`);
    return { exit: standing.run.exitCode, isKept: true };
  }
  diagnostics.say(`${head}${why(standing)}`);
  const exit = await run(invocation, { ...inFolder, entry: await entryOfRun(inFolder, standing.files) });
  return { exit, isKept: false };
}

/** Why it is run again; nothing where it is run first. */
function why({ state, changed }: EntryStanding): string {
  if (state === 'failed') return ': again, its last run failed';
  return changed === null ? '' : `: again, ${changed}`;
}

/** What is only checked leaves no record and draws no page. */
function withoutFiles({ args, options }: Invocation): Invocation {
  const { record: _record, report: _report, ...rest } = options;
  return { args, options: rest };
}
