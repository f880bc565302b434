import type { Caution } from '../../core/planning/caution.js';
import type { GridSystem } from '../../core/grid/grid-system.js';
import type { CsvWriteOptions } from '../../io/csv-write.js';
import type { PlannedTarget } from '../../tasks/plan/predict-targets.js';
import { createRowWriter } from '../row-writer.js';
import type { OutputFormat } from '../workbench.js';
import { planColumns } from './plan-columns.js';
import { planHeadText, planPointText, planTailText } from './plan-json.js';
import type { PlanHead } from './plan-json.js';
import type { PlanStream } from './plan-stream.js';

/** A plan as text, piece by piece, in one of the output formats. */
export interface PlanWriter {
  readonly begin: () => string;
  readonly points: (planned: readonly PlannedTarget[]) => string;
  readonly end: (stream: PlanStream | null, cautions: readonly Caution[], verdict: string) => string;
}

/** What decides the columns. */
export interface PlanShown {
  readonly grid: GridSystem | null;
  readonly hasShapes: boolean;
  readonly hasBaseError: boolean;
  readonly passThroughNames: readonly string[];
  readonly csv: CsvWriteOptions;
}

/** A writer of a plan. JSON carries bases, siting, ranges, stream and cautions too; CSV and GeoJSON the points alone. */
export function createPlanWriter(format: OutputFormat, head: PlanHead, shown: PlanShown): PlanWriter {
  const columns = planColumns(shown.grid, shown.hasShapes, shown.hasBaseError, shown.passThroughNames);
  if (format === 'json') {
    let first = true;
    return {
      begin: () => planHeadText(head),
      points(planned) {
        let text = '';
        for (const one of planned) {
          text += `${first ? '\n' : ',\n'}${planPointText(one, columns)}`;
          first = false;
        }
        return text;
      },
      end: planTailText,
    };
  }
  const writer = createRowWriter(format, columns, { frame: head.frame, epochYear: null, system: head.system }, shown.csv);
  return {
    begin: writer.begin,
    points: (planned) => writer.rows(planned.map((one) => ({ cells: columns.map(({ cell }) => cell(one)), latitudeDeg: one.target.latitudeDeg, longitudeDeg: one.target.longitudeDeg, ellipsoidalHeightM: one.target.ellipsoidalHeightM }))),
    end: writer.end,
  };
}
