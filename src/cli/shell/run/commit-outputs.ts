import type { LedgerAppend } from '../../../io/ledger/ledger-append.js';
import type { SinkGroup } from '../../../io/bytes/output/sink-group.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Diagnostics } from '../messages/diagnostics.js';
import { EXIT_CODES, exitCodeFor } from '../exit-codes.js';

/** The outputs of a run, by when they appear. */
export interface OutputGroups {
  readonly data: SinkGroup;
  readonly pages: SinkGroup;
  /** Record and problems, which tell of failures too. */
  readonly messages: SinkGroup;
}

/**
 * Makes the outputs of a run visible, data first. Everything is on the disk before the first file becomes visible, the line of
 * the job's ledger too; a record never tells of data that did not appear.
 *
 * Given: the outputs; whether the run has data, or ends with its messages alone; the exit code asked for; what prepares the
 * line of the ledger, null where there is none. Returned: the exit code.
 */
export async function commitOutputs(
  groups: OutputGroups,
  hasData: boolean,
  asked: number,
  diagnostics: Diagnostics,
  prepareLine: (() => Promise<Outcome<LedgerAppend>>) | null,
): Promise<number> {
  const { data, pages, messages } = groups;
  const finished = await messages.finish();
  const line: Outcome<LedgerAppend | null> =
    finished.ok && prepareLine !== null && hasData ? await prepareLine() : success(null);
  const ready = finished.ok ? line : finished;
  const shown = ready.ok && hasData ? await data.commit() : ready;
  if (!shown.ok) {
    if (hasData) await data.abort();
    await pages.abort();
    await messages.abort();
    if (line.ok) await line.value?.abort();
    diagnostics.report(shown.problems);
    return exitCodeFor(shown.problems);
  }
  let exit = asked;
  const report = (committed: Outcome<unknown>): void => {
    if (committed.ok) return;
    diagnostics.report(committed.problems);
    exit = exitCodeFor(committed.problems);
  };
  if (hasData) report(await pages.commit());
  const written = await messages.commit();
  report(written);
  if (line.ok && line.value !== null) report(await line.value.commit());
  return shown.value === 'stopped' && written.ok ? EXIT_CODES.done.code : exit;
}
