import { readRunRecord } from '../../io/documents/run-record-read.js';
import { inputRegistry, inputRegistryBelow, withInputRegistry } from '../../io/bytes/input-registry.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { wholeText } from '../../io/text/whole-text.js';
import type { FinishedRun } from '../../records/runs/finished-run.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import type { Context } from '../shell/context.js';

/** A record is some kilobytes; this is none. */
const LARGEST_BYTES = 16 << 20;

/** Reads the run record of a file, or of standard input for `-`. Problems: those of the file and of `readRunRecord`. */
export async function readRecord(
  path: string,
  { cwd, stdin }: Pick<Context, 'cwd' | 'stdin'>,
): Promise<Outcome<{ readonly run: FinishedRun; readonly source: Source }>> {
  const source = await openSource(path, { cwd, stdin });
  if (!source.ok) return source;
  const text = await wholeText(source.value, LARGEST_BYTES);
  if (!text.ok) return text;
  const run = readRunRecord(text.value, source.value.name);
  return run.ok ? success({ run: run.value, source: source.value }, run.problems) : run;
}

/**
 * Whether a file is the record of a run that errors stopped: it tells of no data, so that the record of the next run may stand in
 * its place. It is looked at, and does not become an input; outside the folder of `--confine` it is not.
 */
export async function isRecordOfFailedRun(path: string, context: Pick<Context, 'cwd' | 'stdin'>): Promise<boolean> {
  const aside = await recordAside(path, context);
  return aside?.run.verdict === 'error';
}

/** The run record of a file with its digest, which is looked at and does not become an input; null where there is none that can be read. */
export async function recordAside(
  path: string,
  context: Pick<Context, 'cwd' | 'stdin'>,
): Promise<{ readonly run: FinishedRun; readonly digest: FileDigest } | null> {
  const aside = await inputRegistryBelow(inputRegistry()?.confine ?? null);
  return withInputRegistry(aside, async () => {
    const read = await readRecord(path, context);
    return read.ok ? { run: read.value.run, digest: read.value.source.digest() } : null;
  });
}
