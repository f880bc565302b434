import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import type { ByteBlock } from '../../../../io/csv/csv-blocks.js';
import type { FixBlock } from '../../../../io/tables/fixes/fixes-read.js';
import type { RowPart } from '../../../../io/documents/run-record.js';
import type { Fix } from '../../../../records/points/fix.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { flagOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { OpenedFixes } from '../../../../files/reduction/open-fixes.js';
import { isEstimated } from '../options/held-options.js';

/**
 * A part of the rows of one file, so that runs elsewhere can take the others.
 *
 * An occupation belongs to the part in which it begins, whole: the rows before the part are read to know where one
 * begins and how many its point had before, the rows after it to the end of the last. A row with errors belongs to the
 * part it stands in. So the parts of a file, one after another, give what the whole gives.
 */
export interface RowShare {
  /** The part's own rows of a block, errors and warnings of others left out; call in the order of the file. */
  readonly own: (block: FixBlock) => FixBlock;
  /** Rows of the part so far. */
  readonly rows: () => number;
  readonly holds: (fix: Fix) => boolean;
  readonly owns: (first: Fix) => boolean;
  /** The blocks up to the end of the part's last occupation; what follows is read and not parsed. */
  readonly blocks: (opened: OpenedFixes) => AsyncGenerator<Outcome<FixBlock>>;
  /** After the last block: what the record says, or usage-invalid where the file ends before the part. */
  readonly part: () => Outcome<RowPart>;
}

/** The part that --rows names, or null without it. Problems: usage-invalid, usage-conflict. */
export function rowShare(invocation: Invocation, inputs: number): Outcome<RowShare | null> {
  const text = textOption(invocation, 'rows');
  if (text === null) return success(null);
  const match = /^(\d{0,15}):(\d{0,15})$/u.exec(text);
  const from = match?.[1] === '' ? 1 : parseDecimal(match?.[1] ?? '');
  const to = match?.[2] === '' ? Number.POSITIVE_INFINITY : parseDecimal(match?.[2] ?? '');
  if (match === null || text === ':' || from === null || to === null || from < 1 || to < from) {
    return failure(
      errorProblem('usage-invalid', {
        message: '--rows names no part of a file',
        received: text,
        expected: 'A:B, A: or :B with 1 ≤ A ≤ B, the rows after the header counted from 1',
      }),
    );
  }
  if (inputs !== 1)
    return failure(
      errorProblem('usage-conflict', { message: '--rows goes with one input: rows are counted in one file' }),
    );
  if (flagOption(invocation, 'combine')) {
    return failure(
      errorProblem('usage-conflict', {
        message: '--combine joins occupations of the whole file, and --rows reads a part of it',
        hint: 'join with pegbook check-tolerances, or reduce the whole',
      }),
    );
  }
  if (isEstimated(invocation)) {
    return failure(
      errorProblem('usage-conflict', {
        message: '--variance-factor estimated rests on the repeats of the whole file, and --rows reads a part of it',
        hint: 'reduce the whole',
      }),
    );
  }
  return success(createRowShare(from, to));
}

function createRowShare(from: number, to: number): RowShare {
  let read = 0;
  let rows = 0;
  let firstLine = Number.POSITIVE_INFINITY;
  let lastLine = Number.POSITIVE_INFINITY;
  let isOver = false;
  const within = (line: number): boolean => line >= firstLine && line <= lastLine;

  async function* untilOver(blocks: AsyncIterable<Outcome<ByteBlock>>): AsyncGenerator<Outcome<ByteBlock>> {
    for await (const block of blocks) if (!isOver || !block.ok) yield block;
  }

  return {
    own(block) {
      const { fixes, rejected } = block;
      // A piece holds good rows or bad ones, never both.
      const lineOf = (index: number): number => fixes[index]?.place.line ?? rejected[index]?.line ?? 0;
      const count = fixes.length + rejected.length;
      if (from > read && from <= read + count) firstLine = lineOf(from - read - 1);
      if (to > read && to <= read + count) lastLine = lineOf(to - read - 1);
      rows += Math.max(0, Math.min(to, read + count) - Math.max(from, read + 1) + 1);
      read += count;
      return {
        ...block,
        rejected: rejected.filter(({ line }) => within(line)),
        // A warning of no row belongs to no part of them.
        warnings: block.warnings.filter(({ where }) => within(where?.line ?? 0)),
      };
    },
    rows: () => rows,
    holds: ({ place }) => within(place.line),
    owns({ place }) {
      isOver ||= place.line > lastLine;
      return within(place.line);
    },
    blocks({ input }) {
      const { bytes } = input;
      if (bytes === null)
        return refused(
          errorProblem('usage-conflict', { message: '--rows reads rows of a CSV file, and this input is none' }),
        );
      return bytes.head.dialect.comment === null ? bytes.fixesOf(untilOver(bytes.byteBlocks()), 1) : input.blocks();
    },
    part() {
      if (read < from)
        return failure(
          errorProblem('usage-invalid', {
            message: `the file has ${read} rows and --rows begins after them`,
            received: `${from}:`,
            expected: `1 to ${read}`,
          }),
        );
      return success({ rowFrom: from, rowTo: Math.min(to, read), reachesEnd: !isOver && read <= to });
    },
  };
}

async function* refused(problem: Problem): AsyncGenerator<Outcome<FixBlock>> {
  yield failure(problem);
}
