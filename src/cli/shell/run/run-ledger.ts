import { basename, dirname, join, posix, relative, resolve, sep } from 'node:path';
import { digestFile } from '../../../io/bytes/digest-file.js';
import { inputRegistry } from '../../../io/bytes/input-registry.js';
import { realPathOf } from '../../../io/bytes/real-path.js';
import type { WrittenFile } from '../../../io/bytes/output/sink-group.js';
import { prepareLedgerLine } from '../../../io/ledger/ledger-append.js';
import type { LedgerAppend } from '../../../io/ledger/ledger-append.js';
import { LEDGER_NAME } from '../../../io/ledger/ledger-line.js';
import type { LedgerFile, LedgerOutput, LedgerRole } from '../../../records/runs/ledger.js';
import { success } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import type { Outcome } from '../../../records/outcome.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { VERSION } from '../../../records/runs/version.js';
import { textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import type { Context } from '../context.js';

/** What a finished run tells its job's ledger. */
export interface ToldRun extends RunAnswer {
  /** From SOURCE_DATE_EPOCH; null: the clock's. */
  readonly timeMs: number | null;
}

/** The files of a run, by what they are. */
export interface RunFiles {
  readonly data: readonly WrittenFile[];
  readonly pages: readonly WrittenFile[];
  /** Record and problems. */
  readonly messages: readonly WrittenFile[];
}

/**
 * Writes the line of a run into the ledger beside its job file, not yet to be seen: every file that the run opened, by the
 * bytes it read of it, and every file that it is about to show.
 *
 * Given: the job file as typed; what the run ended with; the files it wrote, none to be seen yet; what was typed, which says
 * the main data and the record from the rest. Problems: those of `prepareLedgerLine` and `digestFile`.
 */
export async function prepareRunLine(
  job: string,
  context: Context,
  told: ToldRun & { readonly exit: number },
  files: RunFiles,
  invocation: Invocation,
): Promise<Outcome<LedgerAppend>> {
  const file = resolve(context.cwd, job);
  const folder = await realPathOf(dirname(file));
  const inputs: LedgerFile[] = [];
  // Without a registry nothing was opened.
  const opened = inputRegistry()?.opened() ?? [];
  // A command whose options the job fills has read it before its own inputs.
  const own = opened.some(({ path }) => path === file) ? [] : [{ path: file, digest: null }];
  for (const { path, digest } of [...own, ...opened]) {
    const name = fromJob(folder, await realPathOf(path));
    const state = digest === null ? await digestFile(path, name) : success(digest);
    if (!state.ok) return state;
    inputs.push({ name, ...state.value });
  }
  const outputs: LedgerOutput[] = [];
  const data = textOption(invocation, 'output');
  const record = textOption(invocation, 'record');
  const roles: readonly (readonly [readonly WrittenFile[], (path: string) => LedgerRole])[] = [
    [files.data, (path) => (path === data ? 'data' : 'side')],
    [files.pages, () => 'page'],
    [files.messages, (path) => (path === record ? 'record' : 'problems')],
  ];
  for (const [group, roleOf] of roles)
    for (const { path, digest } of group) {
      const typed = resolve(context.cwd, path);
      const parent = await realPathOf(dirname(typed));
      const { bytes, sha256 } = digest;
      outputs.push({ role: roleOf(path), name: fromJob(folder, join(parent, basename(typed))), bytes, sha256 });
    }
  return prepareLedgerLine(join(folder, LEDGER_NAME), posix.join(posix.dirname(slashes(job)), LEDGER_NAME), {
    timeMs: told.timeMs ?? Date.now(),
    toolVersion: VERSION,
    job: basename(file),
    command: entryAt(context.argv, 0),
    argv: context.argv,
    exitCode: told.exit,
    answer: told.answer,
    verdictCounts: told.verdicts,
    inputs,
    outputs,
  });
}

/** A path as a ledger has it: from the folder of the job file, with slashes. */
function fromJob(folder: string, path: string): string {
  return slashes(relative(folder, path));
}

function slashes(path: string): string {
  return path.split(sep).join(posix.sep);
}
