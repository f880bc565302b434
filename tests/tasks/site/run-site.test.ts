import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadStationSetup } from '../../../src/files/points/load-station-setup.js';
import { readPointsFile } from '../../../src/files/points/read-points-file.js';
import { DEFAULT_GRID_READING } from '../../../src/io/grids/grid-reading.js';
import { defaultSession } from '../../../src/io/settings/session-read.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import { placeInGrid } from '../../../src/tasks/describe/place-in-grid.js';
import { createStationMaker } from '../../../src/tasks/bases/stations.js';
import { runSite } from '../../../src/tasks/site/run-site.js';
import type { SiteRequest } from '../../../src/tasks/site/run-site.js';
import { valueOf } from '../../support/shift-of-row.js';

const EXAMPLES = fileURLToPath(new URL('../../../examples/quillback-pan-site/', import.meta.url));
const SITE_AXES = { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 } as const;
const system = { grid: 'EPSG:2049', fixes: null, epochYear: null, shift: null };
const setup = valueOf(
  await loadStationSetup({ session: { ...defaultSession(), system }, folder: '.', reading: DEFAULT_GRID_READING }),
);

/** What a program asks for: points and control of files, and nothing of a command line. */
async function requestOf(change: (control: readonly PointRow[]) => readonly PointRow[]): Promise<SiteRequest> {
  const rows = valueOf(await readPointsFile(`${EXAMPLES}points.csv`, { grid: setup.grid }));
  const control = valueOf(
    await readPointsFile(`${EXAMPLES}control.csv`, { needs: { position: 'none', height: 'none' } }),
  );
  const maker = createStationMaker(setup, false);
  expect(rows.flatMap(maker.check)).toEqual([]);
  const file = (name: string): { readonly name: string; readonly bytes: number; readonly sha256: string } => ({
    name,
    bytes: 0,
    sha256: '',
  });
  return {
    control: { rows: change(control), digest: file('control.csv') },
    measured: { ...maker.stationsOf(rows), digest: file('points.csv'), rowsSkipped: 0 },
    grid: setup.grid,
    systemText: setup.systemText,
    geoid: null,
    bases: [],
    siteAxes: SITE_AXES,
    scale: { kind: 'free' },
    vertical: null,
    limits: { horizontalM: null, verticalM: null, bufferM: null },
    allowPoorSpread: false,
    title: '',
    toolVersion: '0',
  };
}

describe('a site fitted by a program', () => {
  // The numbers are those of the golden case of the command: regression.
  it('is the one that the command fits', async () => {
    const { site, judged, answer, vertical } = valueOf(runSite(await requestOf((control) => control)));
    expect(site.transform.horizontal.scale).toBeCloseTo(1.000154998, 9);
    expect(site.bufferM).toBeCloseTo(187.2, 1);
    expect(vertical).toBe('plane');
    expect(answer.answer).toBe('within');
    expect(judged.rows).toHaveLength(8);
    expect(site.inputs.map(({ role, name }) => `${role} ${name}`)).toEqual([
      'points points.csv',
      'control control.csv',
    ]);
  });

  it('has the scale that is said, or that of the ground: one over the combined factor at the middle', async () => {
    const request = await requestOf((control) => control);
    const scaleOf = (scale: SiteRequest['scale'], own: Partial<SiteRequest> = {}): number =>
      valueOf(runSite({ ...request, ...own, scale })).site.transform.horizontal.scale;
    expect(scaleOf({ kind: 'stated', scale: 1.000_1 })).toBe(1.000_1);
    const { stations } = request.measured;
    const mean = (of: (station: (typeof stations)[number]) => number): number =>
      stations.reduce((sum, station) => sum + of(station), 0) / stations.length;
    const place = {
      latitudeDeg: mean(({ latitudeDeg }) => latitudeDeg),
      longitudeDeg: mean(({ longitudeDeg }) => longitudeDeg),
      ellipsoidalHeightM: mean(({ ellipsoidalHeightM }) => ellipsoidalHeightM ?? NaN),
    };
    const { combinedFactor } = valueOf(placeInGrid(place, setup.grid));
    // The middle of the points is that of the control to some ten metres of height: a part in a million.
    expect(scaleOf({ kind: 'ground' })).toBeCloseTo(1 / (combinedFactor ?? NaN), 5);
    const flat = stations.map((station) => ({ ...station, ellipsoidalHeightM: null }));
    const without = runSite({
      ...request,
      measured: { ...request.measured, stations: flat },
      scale: { kind: 'ground' },
    });
    expect(without.ok).toBe(false);
    expect(without.problems.map(({ message }) => message).join()).toContain('a ground scale needs the combined factor');
  });

  it('warns of the point that does not fit at its line, and answers no', async () => {
    const moved = runSite(
      await requestOf((control) =>
        control.map((row) => (row.pointId === 'QS-7' ? { ...row, gridFirst: (row.gridFirst ?? NaN) + 0.5 } : row)),
      ),
    );
    const { answer, judged } = valueOf(moved);
    expect(answer.answer).toBe('no');
    expect(judged.rows.filter(({ verdict }) => verdict === 'no').map(({ pointId }) => pointId)).toEqual(['QS-7']);
    const warned = moved.problems.filter(({ message }) => message.startsWith('QS-7 '));
    expect(warned.map(({ where }) => where?.source)).toEqual(['control.csv']);
  });

  it('comes back with everything that was wrong before, where a step fails', async () => {
    const some = runSite(await requestOf((control) => [{ ...control[0]!, pointId: 'nobody' }, ...control.slice(0, 1)]));
    expect(some.ok).toBe(false);
    expect(some.problems.map(({ code }) => code)).toEqual(['value-unknown-id', 'site-too-few-control']);
  });
});
