import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadStationSetup } from '../../../src/files/points/load-station-setup.js';
import { readPointsFile } from '../../../src/files/points/read-points-file.js';
import { DEFAULT_GRID_READING } from '../../../src/io/grids/grid-reading.js';
import { defaultSession } from '../../../src/io/settings/session-read.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import { createStationMaker } from '../../../src/tasks/bases/stations.js';
import { explainSite } from '../../../src/tasks/site/explain/explain-site.js';
import { runSite } from '../../../src/tasks/site/run-site.js';
import type { SiteRequest } from '../../../src/tasks/site/run-site.js';
import { siteReport } from '../../../src/tasks/site/site-report.js';
import { keptRecord } from '../../support/kept-record.js';
import { valueOf } from '../../support/shift-of-row.js';

// Regression, kept whole: sites fitted to the example's control as it is and with one slip and another. Whether fits, tests and
// words are right is what the tests of tests/core/adjustment and the others of this folder hold.

const EXAMPLES = fileURLToPath(new URL('../../../examples/quillback-pan-site/', import.meta.url));
const system = { grid: 'EPSG:2049', fixes: null, epochYear: null, shift: null };
const setup = valueOf(
  await loadStationSetup({ session: { ...defaultSession(), system }, folder: '.', reading: DEFAULT_GRID_READING }),
);
const POINTS = valueOf(await readPointsFile(`${EXAMPLES}points.csv`, { grid: setup.grid }));
const CONTROL = valueOf(
  await readPointsFile(`${EXAMPLES}control.csv`, { needs: { position: 'none', height: 'none' } }),
);

interface Change {
  readonly control?: (row: PointRow, index: number) => Partial<PointRow>;
  readonly points?: (row: PointRow, index: number) => Partial<PointRow>;
  readonly request?: Partial<SiteRequest>;
}

function requestOf({ control, points, request }: Change): SiteRequest {
  const rows = POINTS.map((row, index) => ({ ...row, ...points?.(row, index) }));
  const maker = createStationMaker(setup, false);
  expect(rows.flatMap(maker.check)).toEqual([]);
  const file = (name: string) => ({ name, bytes: 0, sha256: '' });
  return {
    control: { rows: CONTROL.map((row, index) => ({ ...row, ...control?.(row, index) })), digest: file('control.csv') },
    measured: { ...maker.stationsOf(rows), digest: file('points.csv'), rowsSkipped: 0 },
    ...{
      grid: setup.grid,
      systemText: setup.systemText,
      geoid: null,
      bases: [],
      scale: { kind: 'free' },
      vertical: null,
    },
    siteAxes: { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 },
    limits: { horizontalM: null, verticalM: null, bufferM: null },
    ...{ allowPoorSpread: false, title: '', toolVersion: '0', ...request },
  };
}
const unsaid: Partial<PointRow> = {
  ...{ sigmaEastM: null, sigmaNorthM: null, sigmaUpM: null, sigmaHorizontalM: null, sigmaVerticalM: null },
};
const swapped = (row: PointRow, index: number): Partial<PointRow> => {
  const other = CONTROL[index === 2 ? 3 : index === 3 ? 2 : index] ?? row;
  return { gridFirst: other.gridFirst, gridSecond: other.gridSecond };
};

const SITES: Readonly<Record<string, Change>> = {
  'as it is': {},
  'no sigmas': { control: () => unsaid, points: () => unsaid },
  'no sigmas, one off by 3 dm': {
    control: (row, index) => ({ ...unsaid, ...(index === 4 ? { gridSecond: (row.gridSecond ?? 0) + 0.3 } : {}) }),
    points: () => unsaid,
  },
  'one off in plan and another in height': {
    control: (row, index) =>
      index === 1
        ? { gridFirst: (row.gridFirst ?? 0) + 0.2 }
        : index === 5
          ? { orthometricHeightM: (row.orthometricHeightM ?? 0) - 0.25 }
          : {},
  },
  'a shift of heights, a scale that is said': {
    request: { vertical: 'shift', scale: { kind: 'stated', scale: 1.0001 } },
  },
  'the scale of the ground, no heights': { request: { vertical: 'none', scale: { kind: 'ground' } } },
  'check points within limits and beyond': {
    control: (row, index) => ({
      role: index > 4 ? 'check' : 'fit',
      gridFirst: (row.gridFirst ?? 0) + (index === 6 ? 0.05 : 0),
      orthometricHeightM: (row.orthometricHeightM ?? 0) + (index === 7 ? 0.5 : 0),
    }),
    request: { limits: { horizontalM: 0.04, verticalM: 0.1, bufferM: 50 } },
  },
  'check points without sigmas': {
    control: (_, index) => ({ ...unsaid, role: index > 4 ? 'check' : 'fit' }),
    points: () => unsaid,
  },
  'names exchanged': { control: swapped },
  'names exchanged, no sigmas': {
    control: (row, index) => ({ ...unsaid, ...swapped(row, index) }),
    points: () => unsaid,
  },
  'feet for metres': {
    control: (row) => ({ gridFirst: (row.gridFirst ?? 0) / 0.3048, gridSecond: (row.gridSecond ?? 0) / 0.3048 }),
  },
  'axes exchanged': { control: (row) => ({ gridFirst: row.gridSecond, gridSecond: row.gridFirst }) },
  'three points': { control: (_, index) => (index > 2 ? { role: 'check' } : {}), request: { vertical: 'shift' } },
  'heights of one kind, the geoid left out': {
    control: (row) => ({ orthometricHeightM: null, ellipsoidalHeightM: (row.orthometricHeightM ?? 0) + 27 }),
  },
  'a point without a height, one without a place': {
    control: (_, index) =>
      index === 2 ? { orthometricHeightM: null } : index === 6 ? { gridFirst: null, gridSecond: null } : {},
  },
  'two bases that points share': {
    points: (_, index) => ({ baseId: index % 2 === 0 ? 'B' : 'C' }),
    request: {
      bases: ['B', 'C'].map((id) => ({
        id,
        sigmaHorizontalM: 0.006,
        sigmaVerticalM: 0.009,
      })) as unknown as SiteRequest['bases'],
    },
  },
  'a surface': { request: { vertical: 'surface' } },
  'a surface of a stated signal': {
    request: {
      vertical: 'surface',
      surface: { trend: 'plane', kind: 'second-order-markov', sigmaM: 0.02, lengthM: 3000 },
    },
  },
};
const LEFT_OUT = ['row', 'control', 'measured', 'station', 'passThrough', 'neighbours', 'digest', 'grid'];
/** Of these all is kept, of the others what is said and judged. */
const WHOLE = ['as it is', 'no sigmas', 'two bases that points share', 'a surface of a stated signal'];
const OF_OTHERS = ['reach', 'explained', 'equations', 'transform', 'adjustment', 'pairs', 'cofactor', 'hull', 'inputs'];

describe('a site, as it was fitted', () => {
  it.each(Object.entries(SITES))('%s', async (name, change) => {
    const request = requestOf(change);
    const run = runSite(request);
    const record = run.ok
      ? {
          ...{ ...run.value, problems: run.problems },
          report: siteReport(run.value.site, run.value.fitted, run.value.judged, {} as never),
          explained: [0, 6].map((at) => explainSite(run.value, CONTROL[at]?.pointId ?? '')),
        }
      : { problems: run.problems };
    await expect(keptRecord(record, WHOLE.includes(name) ? LEFT_OUT : [...LEFT_OUT, ...OF_OTHERS])).toMatchFileSnapshot(
      `./sites/${name.replaceAll(/[, ]+/gu, '-')}.txt`,
    );
  });
});
