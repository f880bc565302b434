import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { fixedNumber } from '../../../io/documents/json/json-numbers.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { explainDesign } from '../../../tasks/design/explain-design.js';
import type { DesignRun } from '../../../tasks/design/run-design.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { recordsText } from '../../outputs/record-writer.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import { DESIGN_COLUMNS } from './design-columns.js';

/** Writes the working of the point that --explain names, and returns it for the page; null: it names none. */
export async function writeExplained(
  run: DesignRun,
  { setup }: LoadedStations,
  bench: Workbench,
): Promise<WorkedPoint | null> {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return null;
  const steps = explainDesign(run, setup.grid, wanted);
  if (steps === null) {
    nothingToExplain(bench, wanted);
    return null;
  }
  const worked = { title: `Point ${wanted} on the project grid`, steps };
  await writeWorked(await bench.open('-'), [worked]);
  return worked;
}

/** Writes the distortion of each point, and of documents the grid with it. */
export async function writePoints(
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

/** What people are told of the grid. */
export function designSummary(run: DesignRun, { setup }: LoadedStations): readonly string[] {
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

/** within, or review where heights stand in for others or cost more than allowed; no where rows were skipped. */
export function designAnswer({ points }: DesignRun, isDoubtful: boolean, rejected: number): RunAnswer {
  return {
    answer: rejected > 0 ? 'no' : isDoubtful ? 'review' : 'within',
    verdicts: new Map([['points', points.length]]),
    reasons: new Map(),
  };
}
