import { resolve } from 'node:path';
import { readWholeFile } from '../../io/bytes/open-input.js';
import { bagPath } from '../../io/bag/bag.js';
import type { BagFile } from '../../io/bag/bag.js';
import type { LedgerFile, LedgerOutput, LedgerRole } from '../../records/runs/ledger.js';
import { entryAt } from '../../records/present.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/** A delivery is put together in memory. */
const LARGEST_BYTES = 512 << 20;

/** Where the files of each kind go. */
const PLACES: Readonly<Record<LedgerRole, string>> = {
  data: 'tables',
  side: 'tables',
  page: 'reports',
  record: 'records',
  problems: 'records',
};

/**
 * The places of outputs in a delivery. One that lies beside or above the folder of the job stands as if it lay in it; where two
 * would then be one, the way up is named (`above`).
 */
export function deliveredPaths(outputs: readonly Pick<LedgerOutput, 'role' | 'name'>[]): readonly string[] {
  const near = outputs.map(({ role, name }) => `${PLACES[role]}/${bagPath(withoutWayUp(name))}`);
  return outputs.map(({ role, name }, index) => {
    const own = entryAt(near, index);
    return near.indexOf(own) === near.lastIndexOf(own) ? own : `${PLACES[role]}/${bagPath(name)}`;
  });
}

function withoutWayUp(name: string): string {
  return name
    .split('/')
    .filter((part) => part !== '..')
    .join('/');
}

/**
 * A file of a job, as its ledger says it is.
 * Given: the folder of the job; the file. Problems: those of `readWholeFile`; job-output-changed where it is another by now.
 */
export async function readAsWritten(folder: string, { name, sha256 }: LedgerFile): Promise<Outcome<Uint8Array>> {
  const read = await readWholeFile(resolve(folder, name), name, LARGEST_BYTES, 'a file to be delivered');
  if (!read.ok) return read;
  if (read.value.sha256 === sha256) return success(read.value.bytes);
  return failure(
    errorProblem('job-output-changed', {
      message: 'changed while it was delivered',
      where: { source: name },
      hint: 'run again when nothing writes to it',
    }),
  );
}

/** Those files in their places. Problems: those of `readAsWritten`; usage-conflict where two would be one. */
export async function gatherFiles(
  folder: string,
  outputs: readonly LedgerOutput[],
): Promise<Outcome<readonly BagFile[]>> {
  const files: BagFile[] = [];
  const paths = deliveredPaths(outputs);
  for (const [index, output] of outputs.entries()) {
    const read = await readAsWritten(folder, output);
    if (!read.ok) return read;
    const path = entryAt(paths, index);
    if (files.some((file) => file.path === path))
      return failure(
        errorProblem('usage-conflict', {
          message: `two files would be ${path} in the delivery`,
          hint: 'name one of them with --files',
        }),
      );
    files.push({ path, bytes: read.value });
  }
  return success(files);
}
