import { describe, expect, it } from 'vitest';
import { buildGridSystem } from '../../../src/core/grid/systems/build-grid-system.js';
import type { GridSystem } from '../../../src/core/grid/systems/grid-system.js';
import { definitionFromProjString } from '../../../src/core/projection/definition/definition-from-proj-string.js';
import type { Station } from '../../../src/records/points/point-join.js';
import { designReport } from '../../../src/tasks/design/design-report.js';
import { explainDesign } from '../../../src/tasks/design/explain-design.js';
import { runDesign } from '../../../src/tasks/design/run-design.js';
import type { DesignRequest } from '../../../src/tasks/design/run-design.js';
import { valueOf } from '../../core/grid/systems.js';
import { keptRecord } from '../../support/kept-record.js';

// Regression, kept whole: grids designed for invented points along a meridian, a parallel, aslant and all round. Whether a grid has
// the least distortion is what tests/core/grid/design holds.

const system = (units: string): GridSystem =>
  valueOf(
    buildGridSystem(
      valueOf(
        definitionFromProjString(
          `+proj=tmerc +lat_0=0 +lon_0=21 +k=0.9996 +x_0=500000 +y_0=0 +ellps=WGS84 +units=${units}`,
        ),
      ),
      null,
    ),
  );
const METRES = system('m');
const FEET = system('us-ft');

function stationsAlong(
  [north, east]: readonly [number, number],
  grid: GridSystem,
  change: (index: number) => Partial<Station> = () => ({}),
): readonly Station[] {
  return Array.from({ length: 9 }, (_, index) => {
    const latitudeDeg = 47 + north * (index - 4) + 0.004 * ((index * 5) % 3);
    const longitudeDeg = 15 + east * (index - 4) + 0.004 * ((index * 7) % 4);
    const pair = { first: NaN, second: NaN };
    grid.forward(latitudeDeg, longitudeDeg, pair);
    return {
      ...{ pointId: `P${String(index)}`, latitudeDeg, longitudeDeg, gridFirst: pair.first, gridSecond: pair.second },
      ...{ ellipsoidalHeightM: 400 + 35 * ((index * 4) % 9), orthometricHeightM: null, ...change(index) },
    } as unknown as Station;
  });
}

const MERIDIAN = [0.12, 0.01] as const;
const PARALLEL = [0.005, 0.2] as const;
const ASLANT = [0.1, 0.14] as const;
const ROUND = [0.002, 0.002] as const;
const REQUESTS: Readonly<Record<string, Partial<DesignRequest>>> = {
  'along a meridian': { stations: stationsAlong(MERIDIAN, METRES) },
  'along a parallel': { stations: stationsAlong(PARALLEL, METRES), measure: 'p95' },
  aslant: { stations: stationsAlong(ASLANT, METRES) },
  'all round, in feet': { stations: stationsAlong(ROUND, FEET), grid: FEET },
  'a method that is asked for': { stations: stationsAlong(MERIDIAN, METRES), method: 'lambert' },
  'heights above the sea': {
    stations: stationsAlong(MERIDIAN, METRES, (index) => ({
      ellipsoidalHeightM: null,
      orthometricHeightM: 300 + index,
    })),
  },
  'heights that cost more than is allowed': {
    stations: stationsAlong(ROUND, METRES, (index) => ({ ellipsoidalHeightM: 300 * index })),
  },
  'a height that is missing': {
    stations: stationsAlong(ROUND, METRES, (index) => (index === 3 ? { ellipsoidalHeightM: null } : {})),
  },
  'no point': { stations: [] },
};

describe('a grid that was designed', () => {
  it.each(Object.entries(REQUESTS))('%s', async (name, own) => {
    const run = runDesign({
      ...{ stations: [], grid: METRES, method: null, measure: 'largest' },
      ...{ heightLimitPpm: 40, name: 'invented', ...own },
    });
    const grid = own.grid ?? METRES;
    const record = run.ok
      ? {
          ...{ value: run.value, report: designReport(run.value, grid, {} as never) },
          ...{ explained: ['P2', 'nobody'].map((id) => explainDesign(run.value, grid, id)), problems: run.problems },
        }
      : { problems: run.problems };
    await expect(keptRecord(record, ['station'])).toMatchFileSnapshot(
      `./designs/${name.replaceAll(/[, ]+/gu, '-')}.txt`,
    );
  });
});
