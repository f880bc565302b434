import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import type { DataRow } from './read-page.js';
import { folderWithExamples, runWithReport } from './report-pages.js';
import { runInProcess } from './run-in-process.js';

// One run of every kind of page, of the invented examples, and so that something fails in each that can fail.
const Q = 'examples/quillback-pan';
const SESSION = ['--session', `${Q}/session.toml`];
const LIMITS = ['--limit-horizontal', '0.02', '--limit-vertical', '0.03'];
const SKY = `${Q}-sky`;
const LINK = `${Q}-link`;

const PAGE_NAMES = [
  'reduce',
  'job',
  'check',
  'register',
  'sets',
  'plan',
  'site',
  'surface',
  'network',
  'carried',
  'lines',
  'polar',
  'area',
  'sky',
  'link',
  'design',
] as const;
export type PageName = (typeof PAGE_NAMES)[number];

/** Words of each run, but for --output and --report. A file that it writes beside its data begins with its name. */
export const PAGE_RUNS: Readonly<Record<PageName, readonly string[]>> = {
  reduce: ['reduce-points', `${Q}/fixes.csv`, ...SESSION],
  job: ['reduce-points', '--job', `${Q}-job/job.toml`, '--combine'],
  check: [
    'check-tolerances',
    'reduce-out.csv',
    ...SESSION,
    '--control',
    `${Q}/control.csv`,
    '--repeats',
    '--standard',
    'nssda',
    ...LIMITS,
  ],
  register: ['check-tolerances', `${Q}-days/expected-points.csv`, '--job', `${Q}-days/job.toml`, '--register'],
  sets: [
    'check-tolerances',
    `${Q}-check/series.csv`,
    '--standard',
    'iso-17123-8',
    '--nominal-distance',
    '13',
    '--nominal-height-difference',
    '0.21',
    '--sigma-horizontal',
    '0.015',
    '--sigma-vertical',
    '0.025',
  ],
  plan: [
    'plan-baseline',
    `${Q}-plan/points.csv`,
    '--candidates',
    `${Q}-plan/candidates.csv`,
    '--system',
    'EPSG:2049',
    '--limit-horizontal',
    '0.03',
    '--limit-vertical',
    '0.05',
    '--timetable',
    'plan-timetable.csv',
    '--start-utc',
    '2026-03-04T06:00:00Z',
    '--speed',
    '60',
    '--stream',
    'msm4',
  ],
  site: [
    'fit-site',
    `${Q}-site/points.csv`,
    '--control',
    'site-control.csv',
    '--system',
    'EPSG:2049',
    '--site-axes',
    'easting_m,northing_m',
  ],
  surface: [
    'fit-site',
    `${Q}-heights/points.csv`,
    '--control',
    `${Q}-heights/benchmarks.csv`,
    '--system',
    'EPSG:2049',
    '--vertical',
    'surface',
  ],
  network: [
    'adjust-network',
    '--vectors',
    `${Q}-network/vectors-with-blunders.csv`,
    '--control',
    `${Q}-network/control-typed-wrongly.csv`,
    '--pairs',
    `${Q}-network/pairs.csv`,
    '--system',
    'EPSG:2049',
    '--observations',
    'network-observations.csv',
  ],
  carried: ['transform', `${Q}-site/points.csv`, '--site', `${Q}-site/site.json`, '--extrapolate'],
  lines: ['join-points', `${Q}-site/points.csv`, '--system', 'EPSG:2049', '--consecutive'],
  polar: ['join-points', `${Q}-site/points.csv`, '--system', 'EPSG:2049', '--polar', `${Q}-site/polar.csv`],
  area: ['join-points', `${Q}-site/points.csv`, '--system', 'EPSG:2049', '--area', 'QS-1,QS-2,QS-3,QS-4'],
  sky: [
    'plan-sky',
    `${SKY}/points.csv`,
    '--base',
    '-31.5,21.4,1040',
    '--windows',
    'sky-windows.csv',
    '--navigation',
    `${SKY}/navigation.rnx`,
    '--masks',
    `${SKY}/masks.csv`,
    '--system',
    'EPSG:4326',
    '--date',
    '2025-08-02',
    '--from-time',
    '06:00',
    '--to-time',
    '12:00',
    '--limit-pdop',
    '1',
  ],
  link: [
    'inspect-corrections',
    `${LINK}/base.rtcm3`,
    '--fixes',
    `${LINK}/fixes.csv`,
    '--session',
    `${LINK}/session.toml`,
    '--outages',
    'link-outages.csv',
  ],
  design: ['design-grid', `${Q}-site/points.csv`, '--system', 'EPSG:2049'],
};

/** A page with all data of the same run. */
export interface PageRun {
  readonly html: string;
  readonly exit: number;
  readonly rows: readonly DataRow[];
  /** The same as one JSON document. */
  readonly json: Readonly<Record<string, unknown>>;
  /** A table that was written beside the data, by the end of its name. */
  readonly beside: (name: string) => readonly DataRow[];
}

export interface PageRuns {
  readonly folder: string;
  readonly of: (name: PageName) => PageRun;
}

/** Runs every command, each once with a page and once as JSON. */
export async function runEveryPage(prepare: (folder: string) => void): Promise<PageRuns> {
  const folder = folderWithExamples();
  prepare(folder);
  const runs = new Map<PageName, PageRun>();
  for (const name of PAGE_NAMES) {
    const own = PAGE_RUNS[name];
    // What `fit-site` writes is a site; its table is that of the residuals.
    const isSite = own[0] === 'fit-site';
    const residuals = isSite ? ['--residuals', `${name}-residuals.csv`] : [];
    const read = (file: string): readonly DataRow[] =>
      parse<DataRow>(readFileSync(join(folder, file)), { columns: true });
    const json = isSite
      ? {}
      : await (async () => {
          const { exit: code, stderr } = await runInProcess(
            [...own, '--output', `${name}.json`, '--format', 'json', '--force', '-q'],
            { cwd: folder },
          );
          if (code > 1) throw new Error(stderr);
          return JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8')) as Record<string, unknown>;
        })();
    // Last, so that what is written beside the data is in tables.
    const { html, exit, rows } = await runWithReport(folder, [...own, ...residuals], name);
    runs.set(name, {
      html,
      exit,
      rows: isSite ? read(`${name}-residuals.csv`) : rows,
      json,
      beside: (end) => read(`${name}-${end}.csv`),
    });
  }
  return {
    folder,
    of(name) {
      const run = runs.get(name);
      if (run === undefined) throw new Error(`no page ${name}`);
      return run;
    },
  };
}
