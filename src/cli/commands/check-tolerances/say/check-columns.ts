import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { answerOfVerdict } from '../../../../tasks/check/check-answer.js';
import { judgedBy } from '../../../../tasks/check/judge/check-tolerances-judged-by.js';
import { tightest } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { CheckAxes, CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { RecordColumn, WrittenRecord } from '../../../outputs/record-writer.js';

const number = (name: string): RecordColumn => ({ name, kind: 'number' });
const text = (name: string): RecordColumn => ({ name, kind: 'text' });

/** Columns of the residuals, differences named by the axes of the system. */
export function checkColumns(axes: CheckAxes): readonly RecordColumn[] {
  return [
    text('check'),
    text('point_id'),
    text('occupation'),
    text('against'),
    number(`difference_${axes.first}_m`),
    number(`difference_${axes.second}_m`),
    number('difference_height_m'),
    text('height_kind'),
    number('horizontal_m'),
    number('along_m'),
    number('across_m'),
    number('chainage_m'),
    number('distance_m'),
    number('separation_s'),
    number('horizontal_statistic'),
    number('vertical_statistic'),
    number('horizontal_limit_m'),
    number('horizontal_margin_m'),
    text('horizontal_limit'),
    text('horizontal_governed_by'),
    number('vertical_limit_m'),
    number('vertical_margin_m'),
    text('vertical_limit'),
    text('vertical_governed_by'),
    text('horizontal_judged_by'),
    text('vertical_judged_by'),
    text('verdict'),
    text('reasons'),
  ];
}

/** A row as the cells of `checkColumns`; metres 4 decimals, statistics 3. */
export function checkCells(row: CheckRow): readonly string[] {
  const horizontal = tightest(row, 'horizontal');
  const up = tightest(row, 'up');
  const plan = row.firstM === null || row.secondM === null ? null : Math.hypot(row.firstM, row.secondM);
  return [
    row.check,
    row.pointId,
    row.occupation,
    row.against,
    m(row.firstM),
    m(row.secondM),
    m(row.upM),
    row.heightKind ?? '',
    m(plan),
    m(row.alongM),
    m(row.acrossM),
    m(row.chainageM),
    m(row.distanceM),
    fixed(row.separationS, 0),
    fixed(row.horizontalStatistic, 3),
    fixed(row.verticalStatistic, 3),
    m(horizontal?.limitM ?? null),
    m(horizontal?.marginM ?? null),
    horizontal?.limitName ?? '',
    horizontal?.governedBy ?? '',
    m(up?.limitM ?? null),
    m(up?.marginM ?? null),
    up?.limitName ?? '',
    up?.governedBy ?? '',
    judgedBy(row, 'plan') ?? '',
    judgedBy(row, 'height') ?? '',
    answerOfVerdict(row.verdict),
    row.reasons.join(';'),
  ];
}

/** A row with its place: where it was measured, or nowhere. */
export function checkRecord(row: CheckRow): WrittenRecord {
  return {
    cells: checkCells(row),
    // Only a format that has geometries asks for it, and the point is placed for it.
    get geometry() {
      return geometryOf(row);
    },
  };
}

function geometryOf({ measured }: CheckRow): WrittenRecord['geometry'] {
  if (measured?.latitudeDeg == null || measured.longitudeDeg === null) return { kind: 'lines', lines: [] };
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = measured;
  return { kind: 'point', place: { latitudeDeg, longitudeDeg }, ellipsoidalHeightM };
}

/** The records of rows, each made as it is asked for. */
export function* checkRecords(rows: Iterable<CheckRow>): Generator<WrittenRecord> {
  for (const row of rows) yield checkRecord(row);
}

/**
 * The residual of a row as a line from the known place, drawn `scale` times as long as it is; null where either place is
 * not known.
 */
export function vectorRecord(row: CheckRow, scale: number): WrittenRecord | null {
  const from = row.known;
  const to = row.measured;
  if (from?.latitudeDeg === null || from?.latitudeDeg === undefined || from.longitudeDeg === null) return null;
  if (to?.latitudeDeg === null || to?.latitudeDeg === undefined || to.longitudeDeg === null) return null;
  const start = { latitudeDeg: from.latitudeDeg, longitudeDeg: from.longitudeDeg };
  const end = {
    latitudeDeg: Math.min(90, Math.max(-90, start.latitudeDeg + scale * (to.latitudeDeg - start.latitudeDeg))),
    longitudeDeg: Math.min(180, Math.max(-180, start.longitudeDeg + scale * (to.longitudeDeg - start.longitudeDeg))),
  };
  return { cells: checkCells(row), geometry: { kind: 'lines', lines: [[start, end]] } };
}

function m(value: number | null): string {
  return fixed(value, 4);
}

function fixed(value: number | null, decimals: number): string {
  return value === null || !Number.isFinite(value) ? '' : formatFixed(value, decimals);
}
