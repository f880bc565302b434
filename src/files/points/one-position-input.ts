import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { PointBlock, PointInput } from '../../io/tables/points/points-read.js';
import type { RejectedRow } from '../../io/tables/columns/row-loop.js';
import { success } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import { locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { positionsProblem } from '../../tasks/join/one-position.js';
import type { PositionChoice } from '../../tasks/join/one-position.js';

/** What is known of the positions of a file. */
export interface PositionRule {
  /** The grid of the pair; null: unknown, and nothing can be compared. */
  readonly grid: GridSystem | null;
  readonly choice: PositionChoice;
  /** Name of the file. */
  readonly source: string;
  /** Turns the place of a problem into the document's own. */
  readonly place: (problem: Problem) => Problem;
}

/**
 * The input with one position a row: the one chosen, the other taken out; without a choice the rows
 * whose two positions are not one place are rejected with position-mismatch.
 */
export function withOnePosition(input: PointInput, rule: PositionRule): PointInput {
  return {
    ...input,
    async *blocks() {
      for await (const block of input.blocks()) yield block.ok ? success(onePositionEach(block.value, rule)) : block;
    },
  };
}

function hasTwoPositions({ gridFirst, gridSecond, latitudeDeg, longitudeDeg }: PointRow): boolean {
  return gridFirst !== null && gridSecond !== null && latitudeDeg !== null && longitudeDeg !== null;
}

function onePositionEach(block: PointBlock, rule: PositionRule): PointBlock {
  if (!block.points.some(hasTwoPositions)) return block;
  const rejected: RejectedRow[] = [];
  const points = block.points.flatMap((row): readonly PointRow[] => {
    const { gridFirst, gridSecond, latitudeDeg, longitudeDeg } = row;
    if (gridFirst === null || gridSecond === null || latitudeDeg === null || longitudeDeg === null) return [row];
    if (rule.choice === 'grid') return [{ ...row, latitudeDeg: null, longitudeDeg: null }];
    if (rule.choice === 'geographic') return [{ ...row, gridFirst: null, gridSecond: null }];
    if (rule.grid === null) return [row];
    const { grid, angleDeg } = row.positionRounding ?? { grid: 0, angleDeg: 0 };
    const found = positionsProblem(rule.grid, {
      pointId: row.pointId,
      gridFirst,
      gridSecond,
      latitudeDeg,
      longitudeDeg,
      gridRounding: grid,
      angleRoundingDeg: angleDeg,
    });
    if (found === null) return [row];
    const problem = rule.place(locateProblem(found, { source: rule.source, line: row.place.line }));
    rejected.push({ line: row.place.line, raw: block.rawOf(row), problems: [problem] });
    return [];
  });
  if (rejected.length === 0) return { ...block, points };
  return { ...block, points, rejected: [...block.rejected, ...rejected].sort((a, b) => a.line - b.line) };
}
