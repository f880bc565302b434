import type { LedgerFile, LedgerLine } from '../../../records/runs/ledger.js';
import type { LedgerChange } from './ledger-change.js';

/** A file that a line speaks of and that still counts. */
export interface StandingFile extends LedgerFile {
  readonly line: LedgerLine;
  readonly use: 'input' | 'output';
}

const CODES = {
  input: { changed: 'job-input-changed', missing: 'job-input-missing' },
  output: { changed: 'job-output-changed', missing: 'job-output-missing' },
} as const;

/**
 * The files that must be as the ledger says: each output as the last run that wrote it left it, and each input of every run of
 * which an output still stands.
 *
 * Given: the lines that can be read, in their order. Returned: outputs first, in the order of their lines; an input once for
 * each digest that a run read of it.
 */
export function standingFiles(lines: readonly LedgerLine[]): readonly StandingFile[] {
  const outputs = new Map<string, StandingFile>();
  for (const line of lines)
    for (const { name, bytes, sha256 } of line.outputs) {
      // Deleted first, so that the order is that of the lines that count.
      outputs.delete(name);
      outputs.set(name, { name, bytes, sha256, line, use: 'output' });
    }
  const counting = new Set([...outputs.values()].map(({ line }) => line));
  const inputs = new Map<string, StandingFile>();
  for (const line of lines)
    if (counting.has(line))
      for (const { name, bytes, sha256 } of line.inputs)
        if (!inputs.has(`${sha256} ${name}`))
          inputs.set(`${sha256} ${name}`, { name, bytes, sha256, line, use: 'input' });
  return [...outputs.values(), ...inputs.values()];
}

/** What has become of them. Given: the files; the digest of each name now, null where it is not there. */
export function judgeFiles(
  standing: readonly StandingFile[],
  now: ReadonlyMap<string, string | null>,
): readonly LedgerChange[] {
  return standing.flatMap(({ name, sha256, line, use }): readonly LedgerChange[] => {
    const found = now.get(name) ?? null;
    if (found === sha256) return [];
    const did = use === 'output' ? 'written' : 'read';
    const said = `${did} by line ${String(line.line)} (${line.command}), ${found === null ? 'and is not there' : 'and is another now'}`;
    const code = CODES[use][found === null ? 'missing' : 'changed'];
    return [{ code, line: line.line, name, expectedSha256: sha256, foundSha256: found, said }];
  });
}
