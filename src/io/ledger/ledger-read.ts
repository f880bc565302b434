import type { LedgerLine } from '../../records/runs/ledger.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { readWholeFile } from '../bytes/open-input.js';
import { readLedgerLine } from './ledger-line.js';

/** A line of some thousand bytes a run: this is tens of thousands of runs. */
const LARGEST_BYTES = 64 << 20;

/** A ledger as it stands. */
export interface LedgerText {
  readonly bytes: Uint8Array;
  /** Null: a line that cannot be read. */
  readonly lines: readonly (LedgerLine | null)[];
}

/**
 * The lines of a ledger; null for one that cannot be read.
 * Given: its absolute path; its name for people. Problems: those of `readWholeFile`. Nothing is judged.
 */
export async function readLedger(path: string, name: string): Promise<Outcome<LedgerText>> {
  const read = await readWholeFile(path, name, LARGEST_BYTES, 'a ledger');
  if (!read.ok) return read;
  const lines = read.value.bytes.toString('utf8').split('\n');
  if (lines.at(-1) === '') lines.pop();
  return success({ bytes: read.value.bytes, lines: lines.map((text, index) => readLedgerLine(text, index + 1)) });
}
