import type { LedgerLine } from '../../../records/runs/ledger.js';
import type { LedgerChange } from './ledger-change.js';

/**
 * What is wrong with the lines of a ledger themselves: altered, taken out, put elsewhere, put in.
 *
 * Given: its lines in their order, null for one that cannot be read; the digest of a line that must be among them, as a front
 * sheet has it, or null. Returned: one change a fault, in the order of the lines.
 *
 * Note: nothing in a ledger shows that its last lines were taken off; `head` does.
 */
export function judgeLines(lines: readonly (LedgerLine | null)[], head: string | null): readonly LedgerChange[] {
  const sequences = numbered(lines);
  const known = new Set(sequences);
  const found: LedgerChange[] = [];
  const say = (
    code: LedgerChange['code'],
    line: number | null,
    said: string,
    sha: Partial<LedgerChange> = {},
  ): void => {
    found.push({ code, line, name: null, expectedSha256: null, foundSha256: null, said, ...sha });
  };
  let highest = 0;
  for (const [index, line] of lines.entries()) {
    const place = index + 1;
    const sequence = sequences[index] as number;
    if (line === null) say('ledger-line-altered', place, 'cannot be read');
    else if (line.statedSha256 !== line.actualSha256)
      say('ledger-line-altered', place, 'is not what was written', {
        expectedSha256: line.statedSha256,
        foundSha256: line.actualSha256,
      });
    const missing = Array.from({ length: Math.max(0, sequence - highest - 1) }, (_, i) => highest + 1 + i).filter(
      (number) => !known.has(number),
    );
    if (missing.length > 0) say('ledger-line-removed', place, `before it ${numbersText(missing)} missing`);
    if (sequence <= highest)
      say(
        'ledger-line-reordered',
        place,
        `is number ${String(sequence)}, and number ${String(highest)} stands before it`,
      );
    const before = index === 0 ? null : (lines[index - 1] ?? null);
    const follows = index > 0 && sequence === (sequences[index - 1] as number) + 1;
    const expected = follows ? before?.statedSha256 : sequence === 1 ? null : undefined;
    // Of a line that cannot be read there is nothing to compare with.
    if (line !== null && expected !== undefined && expected !== line.previousSha256 && (index === 0 || before !== null))
      say('ledger-line-replaced', place, 'was written after another line than the one before it', {
        expectedSha256: line.previousSha256,
        foundSha256: expected,
      });
    highest = Math.max(highest, sequence);
  }
  if (head !== null && !lines.some((line) => line?.statedSha256 === head))
    say('ledger-head-missing', null, 'no line has the digest asked for', { expectedSha256: head });
  return found;
}

/** The number of each line; one that cannot be read is taken for the one after the line before it. */
function numbered(lines: readonly (LedgerLine | null)[]): readonly number[] {
  const numbers: number[] = [];
  // Before the first line there is none.
  for (const line of lines) numbers.push(line?.sequence ?? (numbers.at(-1) ?? 0) + 1);
  return numbers;
}

function numbersText(numbers: readonly number[]): string {
  const [first] = numbers;
  return numbers.length === 1
    ? `number ${String(first)} is`
    : `${String(numbers.length)} lines from number ${String(first)} on are`;
}
