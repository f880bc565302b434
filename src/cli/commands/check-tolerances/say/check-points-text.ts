import type { PointRow } from '../../../../records/points/point-row.js';
import { PROBLEM_CODES } from '../../../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../../records/record-list.js';
import { pickedList } from '../../../../tasks/reduce/packing/packed-records.js';
import { listWhere } from '../../../../tasks/reduce/record-search.js';

/** Rejected stands named one by one. */
const MOST_NAMED = 20;

/** What the points file itself says against its points: each rejected stand with its reasons, and reviews counted by reason. */
export function pointVerdictLines(points: RecordList<PointRow>): readonly string[] {
  const rejected = listWhere(points, ({ verdict }) => verdict === 'rejected');
  const review = listWhere(points, ({ verdict }) => verdict === 'review');
  const lines: string[] = [];
  if (rejected.length > 0) {
    lines.push(`rejected by the reduction: ${counted(rejected.length)}`);
    for (const { pointId, occupation, reasons } of pickedList(
      rejected,
      Uint32Array.from({ length: Math.min(MOST_NAMED, rejected.length) }, (_, index) => index),
    )) {
      const codes = codesOf(reasons);
      lines.push(
        // A points file may hold a verdict without a reason.
        `  ${pointId}${occupation === '' ? '' : `@${occupation}`}: ${meaningOf(codes[0] ?? '')} [${codes.join(', ')}]`,
      );
    }
    if (rejected.length > MOST_NAMED) lines.push(`  and ${String(rejected.length - MOST_NAMED)} more`);
  }
  if (review.length > 0) {
    const reasons = new Map<string, number>();
    for (const point of review)
      for (const code of codesOf(point.reasons)) reasons.set(code, (reasons.get(code) ?? 0) + 1);
    lines.push(
      `for review by the reduction: ${counted(review.length)} (${[...reasons].map(([code, count]) => `${code} ${String(count)}`).join(', ')})`,
    );
  }
  return lines;
}

function codesOf(reasons: string): readonly string[] {
  return reasons.split(';').filter((text) => text !== '');
}

function meaningOf(code: string): string {
  return Object.hasOwn(PROBLEM_CODES, code)
    ? PROBLEM_CODES[code as ProblemCode].meaning
    : 'no reason that is known here';
}

function counted(count: number): string {
  return `${String(count)} ${count === 1 ? 'stand' : 'stands'}`;
}
