import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';

const SETTINGS = [
  '--system',
  'EPSG:2049',
  '--reference-point',
  'apc',
  '--phase-centre-offset',
  '0',
  '--pole-length',
  '2',
];
const CELLS = 8;

/** The rows that the run refused, without the reasons beside them. */
async function rejected(rows: readonly string[]): Promise<readonly string[]> {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-late-'));
  try {
    writeFileSync(
      join(folder, 'fixes.csv'),
      `${['point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,tilt_deg,tilt_azimuth_deg', ...rows].join('\n')}\n`,
    );
    const { exit, stderr } = await runInProcess(
      ['reduce-points', 'fixes.csv', ...SETTINGS, '--on-error', 'skip', '-o', 'points.csv', '--rejects', 'bad.csv'],
      { cwd: folder },
    );
    expect(stderr).toContain('points');
    expect(exit).toBe(1);
    return readFileSync(join(folder, 'bad.csv'), 'utf8')
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((row) => row.split(',').slice(0, CELLS).join(','));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe('rows that can be read and not reduced', () => {
  it('are kept whole, however far back their occupation began and whatever was refused within it', async () => {
    const time = (second: number): string => new Date(Date.UTC(2026, 2, 4, 6) + second * 1000).toISOString();
    // Longer than a block of the file, and so far from the central meridian that the grid has no coordinates: the occupation fails as it ends.
    const far = Array.from({ length: 4000 }, (_, second) => `A,${time(second)},-31.4,121.3,1100,fixed,,`);
    // No convention says which way this lean points: refused at once.
    const leaning = `X9,${time(3900)},-31.4,21.3,1100,fixed,3,120`;
    const good = Array.from({ length: 40 }, (_, second) => `B,${time(5000 + second)},-31.4,21.3,1100,fixed,,`);
    const kept = await rejected([...far.slice(0, 3900), leaning, ...far.slice(3900), ...good]);
    expect(kept).toHaveLength(4001);
    expect(new Set(kept)).toEqual(new Set([...far, leaning]));
  });
});
