import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';
import { geoidMetadata, tiffBytes } from '../../support/tiff-bytes.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-geoid-of-the-fixes-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Four nodes about the point, a plane of 20 m a degree eastward: N = 30 + 20 (λ − 21°). */
function geoidFile(name: string, frame: number): string {
  const image = {
    width: 2,
    height: 2,
    samples: [[30, 50, 30, 50]],
    tiePoint: [0, 0, 0, 21, -31, 0],
    pixelScale: [1, 1, 0],
    geoKeys: { 1024: 2, 1025: 2, 2048: frame },
    metadata: geoidMetadata(),
  };
  writeFileSync(join(folder, name), tiffBytes([image]));
  return name;
}

const FIXES = `point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution
P1,2026-03-04T07:00:00Z,-31.5,21.4,1043.2,fixed
P1,2026-03-04T07:00:01Z,-31.5,21.4,1043.2,fixed
`;
// 90 m along the ground, and taken to shift heights too.
const SHIFT = `method = "geocentric translations"
from = "EPSG:4222"
to = "EPSG:4148"
tx_m = -134.73
ty_m = -110.92
tz_m = -292.66
`;
const session = (geoid: string): string => `version = 1
[system]
grid = "EPSG:22281"
fixes = "EPSG:4148"
shift = "shift.toml"
[height]
geoid = "${geoid}"
[rover]
reference_point = "tip"
pole_length_m = 0
`;

describe('a geoid given in the frame of the fixes, with a grid of another datum', () => {
  it('gives H = h − N of that frame, and is read at the place in it', async () => {
    writeFileSync(join(folder, 'fixes.csv'), FIXES);
    writeFileSync(join(folder, 'shift.toml'), SHIFT);
    writeFileSync(join(folder, 's.toml'), session(geoidFile('hart.tif', 4148)));
    const run = await runInProcess(['reduce-points', 'fixes.csv', '--session', 's.toml', '--format', 'json'], {
      cwd: folder,
    });
    expect(run.stderr).not.toContain('error');
    const [point] = (JSON.parse(run.stdout.toString('utf8')) as { points: Record<string, number>[] }).points;
    // H by definition: 1043.2 − (30 + 20 · 0.4). At the longitude of the old datum N would be 11 mm less.
    expect(point!['orthometric_height_m']).toBeCloseTo(1043.2 - 38, 4);
    // The place is in the old datum, and h − N is the same height there.
    expect(Math.abs(point!['longitude_deg']! - 21.4)).toBeGreaterThan(2e-4);
    expect(point!['ellipsoidal_height_m']! - point!['geoid_height_m']!).toBeCloseTo(1043.2 - 38, 3);
  });

  it('is refused where it belongs to neither frame', async () => {
    writeFileSync(join(folder, 'fixes.csv'), FIXES);
    writeFileSync(join(folder, 'shift.toml'), SHIFT);
    writeFileSync(join(folder, 't.toml'), session(geoidFile('third.tif', 4258)));
    const run = await runInProcess(['reduce-points', 'fixes.csv', '--session', 't.toml'], { cwd: folder });
    expect(run.exit).not.toBe(0);
    expect(run.stderr).toContain('grid-frame-mismatch');
  });
});
