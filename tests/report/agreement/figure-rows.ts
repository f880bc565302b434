import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { textAt } from '../../support/read-page.js';
import type { DataRow } from '../../support/read-page.js';
import type { PageName, PageRuns } from '../../support/page-runs.js';

/** A mark that should be drawn: where by the words of the axes, metres where these are lengths, and how its sign begins. */
export interface WantedMark {
  readonly first: number;
  readonly second: number;
  readonly sign: RegExp;
}

/** A figure of a page, and the marks that the data of the same run asks for. */
export interface FigureRow {
  readonly page: PageName;
  readonly id: string;
  readonly marks: (runs: PageRuns) => readonly WantedMark[];
}

const at = (row: DataRow, name: string): number => Number(textAt(row, name));
const has = (row: DataRow, ...names: readonly string[]): boolean => names.every((name) => textAt(row, name) !== '');
const reads = (runs: PageRuns, path: string): readonly DataRow[] =>
  parse<DataRow>(readFileSync(join(runs.folder, path)), { columns: true });
const placed = (
  rows: readonly DataRow[],
  columns: readonly [string, string],
  signOf: (row: DataRow) => RegExp,
): readonly WantedMark[] =>
  rows.map((row) => ({ first: at(row, columns[0]), second: at(row, columns[1]), sign: signOf(row) }));
const SOUTHERN = ['westing_m', 'southing_m'] as const;
const NORTHERN = ['easting_m', 'northing_m'] as const;
const EVERY = (): RegExp => /^mark-circle/u;

const beyond = (row: DataRow, axis: 'horizontal' | 'vertical'): boolean =>
  textAt(row, 'reasons').split(';').includes(`check-${axis}-limit`);
/** The sign of a comparison in a figure of one axis. */
const signOfAxis = (row: DataRow, axis: 'horizontal' | 'vertical'): RegExp =>
  textAt(row, 'verdict') === 'review' ? /^doubt-diamond/u : beyond(row, axis) ? /^bad-times/u : /^mark-circle/u;
const signOfBoth = (row: DataRow): RegExp => {
  const [plan, height] = [beyond(row, 'horizontal'), beyond(row, 'vertical')];
  if (plan || height) return plan && height ? /^bad-star/u : plan ? /^bad-times/u : /^bad-cross/u;
  return textAt(row, 'verdict') === 'within' ? /^mark-circle/u : /^doubt-diamond/u;
};
const controlOf = (runs: PageRuns): readonly DataRow[] =>
  runs.of('check').rows.filter((row) => row['check'] === 'control');
const repeatsOf = (runs: PageRuns): readonly DataRow[] =>
  runs.of('check').rows.filter((row) => ['repeat', 'base-pair'].includes(textAt(row, 'check')));

/** How far outside its control the site may be used. */
const bufferOf = ({ folder }: PageRuns): number =>
  at(JSON.parse(readFileSync(join(folder, 'examples/quillback-pan-site/site.json'), 'utf8')) as DataRow, 'buffer_m');

const siteSign = (row: DataRow): RegExp => {
  const verdict = textAt(row, 'verdict');
  if (verdict === 'no') return /^bad-times/u;
  const symbol = textAt(row, 'role') === 'fit' ? 'circle' : 'diamond';
  return new RegExp(`^${verdict === 'within' ? 'mark' : 'doubt'}-${symbol}`, 'u');
};
const stationSign =
  (runs: PageRuns) =>
  (row: DataRow): RegExp => {
    const held = (runs.of('network').json['control'] as readonly DataRow[]).filter(({ holds }) => holds === true);
    const isControl = held.some(({ point_id: id }) => id === row['point_id']);
    switch (textAt(row, 'verdict')) {
      case 'rejected':
        return /^bad-times/u;
      case 'review':
        return isControl ? /^doubt-triangle/u : /^doubt-circle/u;
      default:
        return isControl ? /^base-triangle/u : /^mark-circle/u;
    }
  };
const overDistance = (id: string, column: string, tolerance: string): FigureRow => ({
  page: 'plan',
  id,
  marks: (runs) =>
    runs.of('plan').rows.map((row) => ({
      first: at(row, 'baseline_m'),
      second: at(row, column),
      // What is outside in the other axis alone is within here.
      sign: at(row, column) > at(row, tolerance) ? /^bad-times/u : /^mark-circle/u,
    })),
});

export const FIGURES: readonly FigureRow[] = [
  {
    page: 'check',
    id: 'residuals',
    marks(runs) {
      const known = new Map(reads(runs, 'examples/quillback-pan/control.csv').map((row) => [row['point_id'], row]));
      return controlOf(runs).map((row) => {
        const place = known.get(row['point_id']);
        if (place === undefined) throw new Error(`no control ${textAt(row, 'point_id')}`);
        return { first: at(place, 'westing_m'), second: at(place, 'southing_m'), sign: signOfBoth(row) };
      });
    },
  },
  {
    page: 'check',
    id: 'scatter',
    // The axes of the system grow to the west and to the south, the figure to the east and to the north.
    marks: (runs) =>
      controlOf(runs)
        .filter((row) => has(row, 'difference_westing_m'))
        .map((row) => ({
          first: -at(row, 'difference_westing_m'),
          second: -at(row, 'difference_southing_m'),
          sign: signOfAxis(row, 'horizontal'),
        })),
  },
  {
    page: 'check',
    id: 'height-distance',
    marks: (runs) =>
      controlOf(runs)
        .filter((row) => has(row, 'difference_height_m', 'distance_m'))
        .map((row) => ({
          first: at(row, 'distance_m'),
          second: at(row, 'difference_height_m'),
          sign: signOfAxis(row, 'vertical'),
        })),
  },
  {
    page: 'check',
    id: 'height-rise',
    marks(runs) {
      const rise = new Map(
        runs.of('reduce').rows.map((row) => [`${textAt(row, 'point_id')} ${textAt(row, 'occupation')}`, row]),
      );
      return controlOf(runs)
        .filter((row) => has(row, 'difference_height_m'))
        .map((row) => ({
          first: at(
            rise.get(`${textAt(row, 'point_id')} ${textAt(row, 'occupation')}`) ?? {},
            'baseline_height_difference_m',
          ),
          second: at(row, 'difference_height_m'),
          sign: signOfAxis(row, 'vertical'),
        }));
    },
  },
  {
    page: 'check',
    id: 'repeats-over-time',
    marks: (runs) =>
      repeatsOf(runs)
        .filter((row) => has(row, 'separation_s'))
        .flatMap((row) => {
          const first = at(row, 'separation_s') / 3600;
          const high = beyond(row, 'vertical') ? /^bad-cross/u : /^doubt-square/u;
          return [
            ...(has(row, 'horizontal_m')
              ? [{ first, second: at(row, 'horizontal_m'), sign: signOfAxis(row, 'horizontal') }]
              : []),
            ...(has(row, 'difference_height_m')
              ? [{ first, second: Math.abs(at(row, 'difference_height_m')), sign: high }]
              : []),
          ];
        }),
  },
  {
    page: 'sets',
    id: 'sets',
    marks: (runs) =>
      runs.of('sets').rows.flatMap((row, index) => {
        const far = Math.abs(at(row, 'distance_error_m')) > at(row, 'distance_limit_m');
        const high = Math.abs(at(row, 'height_error_m')) > at(row, 'height_limit_m');
        return [
          { first: index + 1, second: at(row, 'distance_error_m'), sign: far ? /^bad-times/u : /^mark-circle/u },
          { first: index + 1, second: at(row, 'height_error_m'), sign: high ? /^bad-cross/u : /^doubt-square/u },
        ];
      }),
  },
  {
    page: 'plan',
    id: 'coverage',
    marks: (runs) =>
      placed(runs.of('plan').rows, SOUTHERN, (row) =>
        row['verdict'] === 'within' ? /^mark-(?:circle|square)/u : /^bad-(?:circle|square)/u,
      ),
  },
  overDistance('curve-plan', 'circle_95_normal_m', 'tolerance_horizontal_m'),
  overDistance('curve-height', 'vertical_95_normal_m', 'tolerance_vertical_m'),
  { page: 'site', id: 'residuals', marks: (runs) => placed(runs.of('site').rows, NORTHERN, siteSign) },
  {
    page: 'surface',
    id: 'residuals',
    marks: (runs) =>
      placed(
        runs.of('surface').rows.filter((row) => has(row, 'westing_m')),
        SOUTHERN,
        siteSign,
      ),
  },
  {
    page: 'network',
    id: 'ellipses',
    marks: (runs) => placed(runs.of('network').rows, SOUTHERN, stationSign(runs)),
  },
  {
    page: 'network',
    id: 'redundancy',
    marks: (runs) =>
      placed(runs.of('network').rows, SOUTHERN, (row) =>
        row['checked'] === 'no' ? /^bad-times/u : /^(?:mark-circle|base-triangle)/u,
      ),
  },
  {
    page: 'carried',
    id: 'points-figure',
    marks: (runs) =>
      placed(runs.of('carried').rows, NORTHERN, (row) =>
        at(row, 'outside_control_m') > bufferOf(runs) ? /^doubt-diamond/u : /^mark-circle/u,
      ),
  },
  {
    page: 'lines',
    id: 'joins-figure',
    marks: (runs) => placed(reads(runs, 'examples/quillback-pan-site/points.csv'), SOUTHERN, EVERY),
  },
  {
    page: 'polar',
    id: 'joins-figure',
    marks(runs) {
      const from = new Set(runs.of('polar').rows.map((row) => row['from_id']));
      const known = reads(runs, 'examples/quillback-pan-site/points.csv').filter((row) => from.has(row['point_id']));
      return [...placed(runs.of('polar').rows, SOUTHERN, () => /^mark-diamond/u), ...placed(known, SOUTHERN, EVERY)];
    },
  },
  {
    page: 'area',
    id: 'joins-figure',
    marks: (runs) =>
      placed(
        reads(runs, 'examples/quillback-pan-site/points.csv').filter((row) =>
          ['QS-1', 'QS-2', 'QS-3', 'QS-4'].includes(textAt(row, 'point_id')),
        ),
        SOUTHERN,
        EVERY,
      ),
  },
  {
    page: 'design',
    id: 'distortion-map',
    marks: (runs) => placed(runs.of('design').rows, NORTHERN, () => /^disc-circle/u),
  },
];

/** Figures whose marks are rows of no table: what they are, where they are held, and the words of that test that speak of the figure. */
export const DRAWN_ELSEWHERE: readonly (readonly [pattern: RegExp, where: string, words: string])[] = [
  [/^(?:reduce|job): plan(?:-\d+)?$/u, 'stands side by side: tests/report/figures/marks-agree.test.ts', "'plan'"],
  [/^(?:reduce|job): o\d+-[st]$/u, 'epochs of a stand: tests/report/agreement/lines-agree.test.ts', 'epochs in plan'],
  [/^(?:reduce|job): parts$/u, 'bars, no marks: tests/report/reduction/reduction-page.test.ts', 'id="parts-t"'],
  [/^(?:reduce|job): refused$/u, 'bars, no marks: tests/report/agreement/lines-agree.test.ts', "'refused'"],
  [/: link\d*-ages$/u, 'minutes: tests/report/agreement/lines-agree.test.ts', "'link1-ages'"],
  [/: link\d*-cells$/u, 'squares of ground: tests/report/agreement/lines-agree.test.ts', "'link1-cells'"],
  [/^link: messages-drawn$/u, 'tests/report/corrections/corrections-page.test.ts', 'messages-drawn-t'],
  [/^register: register-\d+$/u, 'lines over set-ups: tests/report/check/register-page.test.ts', '#register-'],
  [/^surface: surface-map$/u, 'dots among graded numbers: tests/report/agreement/lines-agree.test.ts', "'surface-map'"],
  [
    /^(?:site|surface): reach-figure$/u,
    'lines of the fit: tests/report/agreement/lines-agree.test.ts',
    "'reach-figure'",
  ],
  [/^network: residuals$/u, 'tests/report/network/network-page.test.ts', "'residuals'"],
  [/^network: control-figure$/u, 'tests/report/agreement/lines-agree.test.ts', "'control-figure'"],
  [/^sky: sky-\d+$/u, 'paths of satellites: tests/report/sky/sky-page.test.ts', 'sky-\\d+-t'],
];
