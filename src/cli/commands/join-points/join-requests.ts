import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import { orthometricHeightM } from '../../../core/geoid/orthometric-height.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import type { CsvDialect } from '../../../io/csv/csv-dialect.js';
import { readPairs } from '../../../io/tables/pairs-read.js';
import { readPolarLines } from '../../../io/tables/polar-read.js';
import { openSource } from '../../../io/bytes/source.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { FigureArea, PointJoin, Station } from '../../../records/points/point-join.js';
import { errorProblem, locateProblem } from '../../../records/problem.js';
import { figureArea } from '../../../tasks/reduce/figure-area.js';
import { joinPoints } from '../../../tasks/join/join-points.js';
import { polarPoint } from '../../../tasks/join/polar-points.js';
import { listOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { StopError } from '../../shell/stop.js';
import type { Workbench } from '../../shell/workbench.js';

/** Tables beside the points are plain CSV: their form is ours. */
const PLAIN: CsvDialect = { delimiter: ',', comment: null, skipLines: 0, hasHeader: true, decimalComma: false };

/** The lines asked for by --from, --pairs or --consecutive. */
export async function linesAsked(loaded: LoadedStations, bench: Workbench, log: RunLog): Promise<readonly PointJoin[]> {
  const { invocation, diagnostics } = bench;
  const { stations, setup, source } = loaded;
  const pairs: {
    readonly from: Station;
    readonly to: Station;
    readonly where: { readonly source: string; readonly line: number };
  }[] = [];
  const pairsPath = textOption(invocation, 'pairs');
  const fromId = textOption(invocation, 'from');
  const toId = textOption(invocation, 'to');
  if (pairsPath !== null) {
    const { table, name, finish } = await openTable(pairsPath, bench, log);
    const found = bench.take(await readPairs(table, 1));
    finish(found.length);
    for (const pair of found) {
      const where = { source: name, line: pair.place.line };
      collect(diagnostics, () =>
        pairs.push({ from: loaded.find(pair.fromId, where), to: loaded.find(pair.toId, where), where }),
      );
    }
  } else if (fromId !== null) {
    const from = loaded.find(fromId);
    const targets = toId === null ? stations.filter((station) => station !== from) : [loaded.find(toId)];
    for (const to of targets) pairs.push({ from, to, where: { source, line: to.place.line } });
  } else {
    stations.forEach((to, index) => {
      const from = stations[index - 1];
      if (from !== undefined) pairs.push({ from, to, where: { source, line: to.place.line } });
    });
  }
  if (pairs.length === 0 && diagnostics.errorCount() === loaded.reported) {
    throw new StopError([
      errorProblem('csv-empty', {
        message: `${source} has ${stations.length} ${stations.length === 1 ? 'point' : 'points'}, and a line needs two`,
        where: { source },
      }),
    ]);
  }
  return pairs.flatMap(({ from, to, where }) => {
    const join = joinPoints(from, to, setup);
    diagnostics.report(join.problems.map((problem) => locateProblem(problem, where)));
    return join.ok ? [join.value] : [];
  });
}

/** The points asked for by --polar, each with the point it was set out from. */
export async function polarsAsked(
  loaded: LoadedStations,
  bench: Workbench,
  log: RunLog,
): Promise<readonly { readonly point: Station; readonly fromId: string }[]> {
  const { table, name, finish } = await openTable(textOption(bench.invocation, 'polar') ?? '', bench, log);
  const lines = bench.take(await readPolarLines(table, 1));
  finish(lines.length);
  const found: { readonly point: Station; readonly fromId: string }[] = [];
  for (const line of lines) {
    const where = { source: name, line: line.place.line };
    collect(bench.diagnostics, () => {
      const point = withOrthometric(polarPoint(line, loaded.find(line.fromId, where), loaded.setup), loaded);
      bench.diagnostics.report(point.problems.map((problem) => locateProblem(problem, where)));
      if (point.ok) found.push({ point: point.value, fromId: line.fromId });
    });
  }
  return found;
}

/** Through the geoid, where there is one and the ellipsoidal height is known. */
function withOrthometric(point: Outcome<Station>, { setup }: LoadedStations): Outcome<Station> {
  if (!point.ok || setup.geoid === null || point.value.ellipsoidalHeightM === null) return point;
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = point.value;
  const n = setup.geoid.heightAt(latitudeDeg, longitudeDeg);
  if (n === null) {
    const status = setup.geoid.statusAt(latitudeDeg, longitudeDeg);
    return failure(
      geoidProblem(status === 'nodata' ? 'nodata' : 'outside', latitudeDeg, longitudeDeg, setup.geoid.grid),
    );
  }
  return success({ ...point.value, orthometricHeightM: orthometricHeightM(ellipsoidalHeightM, n) });
}

/** The areas asked for by --area, each with its corners. */
export function areasAsked(
  loaded: LoadedStations,
  bench: Workbench,
): readonly { readonly area: FigureArea; readonly corners: readonly Station[] }[] {
  return listOption(bench.invocation, 'area').map((text) => {
    const ids = text
      .split(',')
      .map((id) => id.trim())
      .filter((id) => id !== '');
    // A figure that is written closed is the same figure.
    if (ids.length > 1 && ids[0] === ids.at(-1)) ids.pop();
    const corners = ids.map((id) => loaded.find(id));
    return { area: bench.take(figureArea(corners, loaded.setup)), corners };
  });
}

async function openTable(
  path: string,
  bench: Workbench,
  log: RunLog,
): Promise<{ readonly table: CsvTable; readonly name: string; readonly finish: (rows: number) => void }> {
  const { context } = bench;
  const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: null }));
  const table = bench.take(await readCsv(source, PLAIN));
  return { table, name: source.name, finish: (rows) => log.input(source, 'csv', rows, 0) };
}

/** Reports what a step stopped with and goes on, so that all rows are checked before the run ends. */
function collect(diagnostics: Workbench['diagnostics'], step: () => void): void {
  try {
    step();
  } catch (error) {
    if (!(error instanceof StopError)) throw error;
    diagnostics.report(error.problems);
  }
}
