import type { RunAnswer } from '../../../../records/runs/run-answer.js';
import type { Caution } from '../../../../core/planning/caution.js';
import { assertDistinct } from '../../../../io/tables/columns/distinct-columns.js';
import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';
import { cellColumns, createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import { carriedNames, renamedColumnNotes } from '../../../../io/tables/columns/carried-names.js';
import type { Problem } from '../../../../records/problem.js';
import { writtenNames } from '../../../../files/points/written-names.js';
import { createRowWriter } from '../../../outputs/row-writer.js';
import type { OutputFormat } from '../../../../files/points/points-writer.js';
import { carriedColumns, planColumns } from './plan-columns.js';
import type { PlanShown } from './plan-columns.js';
import { createPlanPointText, planHeadText, planTailText } from './plan-json.js';
import type { PlanHead } from './plan-json.js';
import type { PlanStream } from '../../../../tasks/plan/plan-stream.js';

/** A plan as text, piece by piece, in one of the output formats. */
export interface PlanWriter {
  /** Says which columns of the input were renamed. */
  readonly notes: readonly Problem[];
  readonly columns: readonly string[];
  readonly begin: () => string;
  readonly points: (planned: readonly PlannedTarget[]) => string;
  readonly end: (stream: PlanStream | null, cautions: readonly Caution[], answer: RunAnswer) => string;
}

/** What a plan is written from beside its points: see `PlanShown`, and the other columns of the input. */
export interface PlanWriting extends PlanShown {
  readonly passThroughNames: readonly string[];
  readonly csv: CsvWriteOptions;
}

/** A writer of a plan. JSON carries bases, siting, ranges, stream and cautions too; CSV and GeoJSON the points alone. */
export function createPlanWriter(format: OutputFormat, head: PlanHead, shown: PlanWriting): PlanWriter {
  const own = planColumns(shown);
  const carried = carriedNames(writtenNames(format, own), shown.passThroughNames);
  const notes = renamedColumnNotes(carried);
  const columns = [...own, ...carriedColumns(carried.names)];
  if (format === 'json') {
    assertDistinct(columns.map(({ name }) => name));
    const pointText = createPlanPointText(columns);
    let first = true;
    return {
      notes,
      columns: columns.map(({ name }) => name),
      begin: () => planHeadText(head),
      points(planned) {
        let text = '';
        for (const one of planned) {
          text += `${first ? '\n' : ',\n'}${pointText(one)}`;
          first = false;
        }
        return text;
      },
      end: planTailText,
    };
  }
  const cellsOf = createCellTexts(columns);
  const writer = createRowWriter(
    format,
    cellColumns(columns),
    { frame: head.frame, epochYear: null, system: head.system },
    shown.csv,
  );
  return {
    notes,
    columns: columns.map(({ name }) => name),
    begin: writer.begin,
    points: (planned) =>
      writer.rows(
        planned.map((one) => ({
          cells: cellsOf(one),
          latitudeDeg: one.target.latitudeDeg,
          longitudeDeg: one.target.longitudeDeg,
          ellipsoidalHeightM: one.target.ellipsoidalHeightM,
        })),
      ),
    end: () => writer.end({}),
  };
}
