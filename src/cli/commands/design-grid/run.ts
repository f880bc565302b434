import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { fixedNumber } from '../../../io/documents/json-numbers.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cell-text.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { RunAnswer } from '../../../records/run-answer.js';
import { explainDesign } from '../../../tasks/design/explain-design.js';
import { runDesign } from '../../../tasks/design/run-design.js';
import type { DesignRun } from '../../../tasks/design/run-design.js';
import { workingText } from '../../../tasks/explain/explain-point.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { loadStations } from '../../inputs/station-load.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { tableOptions } from '../../inputs/table-options.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { recordsText } from '../../outputs/record-writer.js';
import { createRejects } from '../../outputs/rejects.js';
import { numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { DESIGN_COLUMNS } from './design-columns.js';

/** The range of heights alone may cost so much before it is warned of; common practice, no published source. */
const HEIGHT_LIMIT_PPM = 20;

/** Designs a project grid; see `designGridSpec`. */
export const runDesignGrid: CommandRun = (invocation, context) => {
  const inputs = inputPaths([...invocation.args, ...textsGiven(invocation, ['session', 'geoid'])], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => design(bench, log), log.failure);
};

async function design(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const heightLimitPpm = numberOption(invocation, 'heightLimit') ?? HEIGHT_LIMIT_PPM;
  if (!(heightLimitPpm > 0))
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: `--height-limit ${heightLimitPpm} is no limit`,
          received: String(heightLimitPpm),
          expected: 'ppm, above 0',
        }),
      ),
    );
  const tables = bench.take(tableOptions(invocation, null));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const loaded = await loadStations(bench, log, tables, rejects, false);
  const { grid } = loaded.setup;
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const outcome = runDesign({
    stations: loaded.stations,
    grid,
    method: textOption(invocation, 'method'),
    measure: textOption(invocation, 'minimise') ?? 'largest',
    heightLimitPpm,
    name: textOption(invocation, 'name') ?? 'Project grid',
  });
  const run = bench.take(outcome);
  const answer = answerOf(run, outcome.problems.length > 0, loaded.rejected);
  log.model('grid', { role: 'system', name: run.name, definition: run.proj, sha256: null });
  log.method({
    id: 'design-grid',
    name: 'project grid of least distortion on the ground',
    source: { key: 'IOGP-373-7-2', locator: 'docs/methods/project-grid.md' },
  });
  const isExplained = await writeExplained(run, loaded, bench);
  if (!isExplained || textOption(invocation, 'output') !== null) {
    await writePoints(run, loaded, answer, bench);
    for (const line of summary(run, loaded)) diagnostics.say(line);
  }
  const wktPath = textOption(invocation, 'wkt');
  if (wktPath !== null) await (await bench.open(wktPath)).write(run.wkt);
  const reportPath = textOption(invocation, 'report');
  if (reportPath !== null) {
    const { writeDesignReport } = await import('./design-report-write.js');
    await writeDesignReport(reportPath, run, loaded, answer, bench, log);
  }
  return endWith(answer, invocation, log);
}

/** within, or review where heights stand in for others or cost more than allowed; no where rows were skipped. */
function answerOf({ points }: DesignRun, isDoubtful: boolean, rejected: number): RunAnswer {
  return {
    answer: rejected > 0 ? 'no' : isDoubtful ? 'review' : 'within',
    verdicts: new Map([['points', points.length]]),
    reasons: new Map(),
  };
}

async function writeExplained(run: DesignRun, { setup }: LoadedStations, bench: Workbench): Promise<boolean> {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return false;
  const steps = explainDesign(run, setup.grid, wanted);
  if (steps === null) {
    bench.take(
      failure(
        errorProblem('value-unknown-id', {
          message: `there is no point ${wanted} to explain`,
          received: wanted,
          hint: 'name it as it stands in the file',
        }),
      ),
    );
    return true;
  }
  await (await bench.open('-')).write(workingText(`Point ${wanted} on the project grid`, steps));
  return true;
}

async function writePoints(
  run: DesignRun,
  { setup }: LoadedStations,
  answer: RunAnswer,
  bench: Workbench,
): Promise<void> {
  const { design, extent, candidates, proj, wkt } = run;
  const { base } = setup.grid;
  const cellsOf = createCellTexts(DESIGN_COLUMNS);
  const rows = run.points.map((point) => ({
    cells: cellsOf(point),
    geometry: { kind: 'point', place: point.station, ellipsoidalHeightM: null } as const,
  }));
  const head = {
    schema: 'pegbook-grid-design',
    list: 'points',
    members: { system: proj, frame: base.code ?? base.name },
    summary: answerJson(answer),
    whole: {
      name: run.name,
      proj,
      wkt2: wkt,
      method: design.method,
      latitude_deg: fixedNumber(design.latitudeDeg, 6),
      longitude_deg: fixedNumber(design.longitudeDeg, 6),
      azimuth_deg: design.method === 'oblique-mercator' ? fixedNumber(design.azimuthDeg, 6) : null,
      scale_factor: fixedNumber(design.scaleFactor, 6),
      false_easting_m: design.falseEastingM,
      false_northing_m: design.falseNorthingM,
      minimised: run.measure,
      distortion_ppm: fixedNumber(run.distortion * 1e6, 2),
      heights_alone_ppm: fixedNumber(run.heightCost * 1e6, 2),
      heights: run.heightsAreOrthometric ? 'orthometric' : 'ellipsoidal',
      long_axis_deg: fixedNumber(extent.azimuthDeg, 2),
      candidates: candidates.map((one) => ({
        method: one.design.method,
        distortion_ppm: fixedNumber(one.distortion * 1e6, 2),
      })),
    },
  };
  const text = recordsText(bench.format, cellColumns(DESIGN_COLUMNS), rows, head, csvWriteOptions(bench.invocation));
  await (await bench.open(textOption(bench.invocation, 'output') ?? '-')).write(text);
}

function summary(run: DesignRun, { setup }: LoadedStations): readonly string[] {
  const { points, extent, candidates, origins, heightCost, measure, design } = run;
  const ppm = (value: number): string => formatFixed(value * 1e6, 1);
  const metres = ([least, most]: readonly [number, number]): string =>
    `${formatFixed(least, 0)} to ${formatFixed(most, 0)} m`;
  const heights = points.map(({ heightM }) => heightM);
  const distortions = points.map(({ distortion }) => distortion);
  return [
    `${run.name}: ${run.proj}`,
    `  ${design.method} for ${String(points.length)} points, long axis ${formatFixed(extent.azimuthDeg, 0)}°, ${formatFixed(extent.ratio, 2)} across to along`,
    `  ${measure === 'largest' ? 'largest distortion' : 'distortion that 95 of 100 keep'}: ${candidates.map((one) => `${one.design.method} ${ppm(one.distortion)} ppm`).join(', ')}`,
    `  distortion ${ppm(smallestOf(distortions))} to ${ppm(largestOf(distortions))} ppm, which is ${formatFixed(smallestOf(distortions) * 1e5, 2)} to ${formatFixed(largestOf(distortions) * 1e5, 2)} mm in 100 m`,
    `  heights ${formatFixed(smallestOf(heights), 1)} to ${formatFixed(largestOf(heights), 1)} m (${run.heightsAreOrthometric ? 'orthometric, in place of ellipsoidal ones' : 'ellipsoidal'}): they alone cost ${ppm(heightCost)} ppm`,
    `  eastings ${metres(origins.eastings)}, northings ${metres(origins.northings)}: apart from each other and from the points' coordinates in ${setup.grid.code ?? setup.grid.name}`,
    `  on the frame of ${setup.grid.base.name}; this is not the national system`,
  ];
}
