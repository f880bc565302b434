import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { RunChange } from '../../../tasks/job/runs/compare-runs.js';
import type { ComparisonSummary, RunDifference } from '../../../tasks/job/runs/comparison-summary.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { WrittenRecord } from '../../outputs/record-writer.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import { CHANGE_COLUMNS } from './change-columns.js';

/** What stands beside the rows of a comparison in JSON. */
export interface ComparisonFindings {
  readonly summary: ComparisonSummary;
  readonly differences: readonly RunDifference[];
  readonly answer: RunAnswer;
  readonly system: string;
}

/** Writes a comparison, row by row, at the place of --output. */
export async function writeChanges(
  bench: Workbench,
  changes: readonly RunChange[],
  found: ComparisonFindings,
): Promise<void> {
  const cells = createCellTexts(CHANGE_COLUMNS);
  const rows = changes.map((change): WrittenRecord => ({ cells: cells(change), geometry: geometryOf(change) }));
  const head = {
    schema: 'pegbook-run-comparison',
    list: 'points',
    members: { system: found.system },
    summary: summaryJson(found),
    whole: { runs_differ_in: found.differences },
  };
  const sink = await bench.open(textOption(bench.invocation, 'output') ?? '-');
  const columns = cellColumns(CHANGE_COLUMNS);
  for (const piece of recordPieces(bench.format, columns, rows, head, csvWriteOptions(bench.invocation)))
    await sink.write(piece);
}

function geometryOf({ place }: RunChange): WrittenRecord['geometry'] {
  if (place?.latitudeDeg == null || place.longitudeDeg === null) return { kind: 'lines', lines: [] };
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = place;
  return { kind: 'point', place: { latitudeDeg, longitudeDeg }, ellipsoidalHeightM };
}

function summaryJson({ summary, answer }: ComparisonFindings): Readonly<Record<string, unknown>> {
  const { compared, counts, verdictChanged, sameObservations, unknownSetups, largest, common } = summary;
  const m = (value: number | null): number | null => (value === null ? null : parseDecimal(formatFixed(value, 4)));
  return {
    ...answerJson(answer),
    compared,
    ...counts,
    verdict_changed: verdictChanged,
    same_observations: sameObservations,
    setups_unknown: unknownSetups,
    largest: largest.map(({ figure, value, at }) => ({ figure, value: m(value), at })),
    median_movement:
      common === null
        ? null
        : {
            east_m: m(common.eastM),
            north_m: m(common.northM),
            up_m: m(common.upM),
            left_horizontal_m: m(common.leftHorizontalM),
            left_vertical_m: m(common.leftVerticalM),
          },
  };
}
