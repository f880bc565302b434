import type { PlaceRow } from '../../../../records/points/place-row.js';
import type { ProblemCode } from '../../../../records/codes/problem-codes.js';
import type { Problem } from '../../../../records/problem.js';
import type { Answer } from '../../../../records/runs/run-answer.js';
import { carriedPage } from '../../../../report/carried/carried-page.js';
import { collectCarriedPoints } from '../../../../tasks/pages/carried-points.js';
import { carriedPlace, carriedReport } from '../../../../tasks/pages/carried-report.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import type { PointOnTheWay } from '../../../../tasks/transform/point-on-the-way.js';
import type { TellOfRow } from '../../../../tasks/transform/transform-run.js';
import type { AngleForm } from '../../../../io/tables/columns/cells/cell-text.js';
import type { PlaceInput } from '../../../../io/tables/points/place-input.js';
import { pageFacts } from '../../../outputs/page-facts.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { ExplainTarget } from '../explain-target.js';
import type { CarriedCounts } from '../carry-places.js';
import { transformTable } from './transform-table.js';
import { saidOfRun, wayInWords } from './said-of-run.js';

/** The page of a run, gathered while its rows go by. */
export interface PageOfRun {
  /** Hears what is told of a row, for the point that `add` then names. */
  readonly listen: (tell: TellOfRow) => TellOfRow;
  readonly add: (row: PlaceRow, point: PointOnTheWay) => void;
  readonly refuse: (problems: readonly Problem[], line: number) => void;
  readonly write: (
    counts: CarriedCounts,
    answer: Answer,
    said: readonly string[],
    outside: readonly string[],
  ) => Promise<void>;
}

/** Opens the page of --report. Loaded only where one is asked for. */
export async function openPageOfRun(
  path: string,
  planned: PlannedTransform,
  input: PlaceInput,
  writing: { readonly angles: AngleForm; readonly decimalComma: boolean },
  bench: Workbench,
  log: RunLog,
  explained: ExplainTarget | null,
): Promise<PageOfRun> {
  const sink = await bench.openPage(path);
  // GeoJSON has no columns for a position: the page has those of a list, whatever is written.
  const table = transformTable(planned, input, 'csv', writing.angles);
  const own = table.columns.length - input.passThroughNames.length;
  const points = collectCarriedPoints(
    input.passThroughNames,
    writing.decimalComma,
    carriedPlace(planned),
    (row, point) => table.cells(row, point).slice(1, own),
  );
  let told: ProblemCode[] = [];
  let shown = 0;
  return {
    listen: (tell) => (problem) => {
      told.push(problem.code);
      tell(problem);
    },
    add(row, point) {
      // With --explain the page is that of one point.
      if (explained === null || explained.isShown(row.pointId)) {
        shown += 1;
        points.add(row, point, point.isOutsideArea ? [...told, 'coordinate-outside-area'] : told);
      }
      told = [];
    },
    refuse(problems, line) {
      told = [];
      if (explained === null) points.refuse(problems, line);
    },
    async write({ count, bad, without }, answer, statements, outside) {
      const gathered = points.gathered();
      const about = {
        ...pageFacts(bench, log),
        answer,
        way: wayInWords(planned),
        columns: table.columns.slice(1, own).map(({ name }) => name),
        hasDms: writing.angles === 'dms',
        statements,
        outside,
        leftOut: input.notTrusted,
        carried: count,
        refused: bad,
        withoutPlace: without,
        ...(explained === null ? {} : ofOnePoint(explained, shown, gathered.inDoubt > 0, planned, input)),
      };
      // Where the drawing fails that is said at the end, and no page appears.
      await sink.write(bench.draw(() => carriedPage(carriedReport(planned, gathered, about))) ?? '');
    },
  };
}

/** What the page of one point says of itself, and nothing of how the others did. */
function ofOnePoint(
  { worked }: ExplainTarget,
  carried: number,
  isInDoubt: boolean,
  planned: PlannedTransform,
  { hasOrthometric, hasEllipsoidal }: PlaceInput,
): Partial<Parameters<typeof carriedReport>[2]> {
  const heights = { orthometric: hasOrthometric, ellipsoidal: hasEllipsoidal };
  return {
    worked,
    answer: isInDoubt ? 'review' : 'within',
    statements: saidOfRun(planned, carried, heights, []).slice(1),
    outside: [],
    carried,
    refused: 0,
    withoutPlace: 0,
  };
}
