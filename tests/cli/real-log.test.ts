import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';

// Part of a test log of the GPSD project (BSD-2-Clause; see tests/data/README.md), at 10 Hz: 18 positions of a walk under
// quality 2, ten minutes of nothing, then 18 fixed epochs.
const LOG = fileURLToPath(new URL('../data/moving-antenna.nmea', import.meta.url));

describe('a real NMEA 0183 log of a moving antenna', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-log-'));
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it('accepts the 18 fixed epochs, refuses the 18 others as not fixed, and passes no mean off as a point', async () => {
    const result = await runInProcess(
      [
        'reduce-points',
        LOG,
        '--system',
        'EPSG:32615',
        '--pole-length',
        '2',
        '--phase-centre-offset',
        '0',
        '--epochs',
        'epochs.csv',
      ],
      { cwd: folder },
    );
    expect(result.exit).toBe(1);
    const epochs = readFileSync(join(folder, 'epochs.csv'), 'utf8').trim().split('\n').slice(1);
    expect(epochs).toHaveLength(36);
    expect(epochs.filter((row) => row.includes(',accepted,,'))).toHaveLength(18);
    expect(epochs.filter((row) => row.includes(',refused,epoch-not-fixed,'))).toHaveLength(18);
    const points = result.stdout.toString('utf8').trim().split('\n');
    expect(points).toHaveLength(2);
    const cells = points[1]?.split(',') ?? [];
    const header = points[0]?.split(',') ?? [];
    expect(cells[header.indexOf('verdict')]).toBe('rejected');
    expect(cells[header.indexOf('reasons')]).toContain('point-antenna-moving');
    expect(cells[header.indexOf('easting_m')]).toBe('');
    expect(cells[header.indexOf('epochs_used')]).toBe('18');
    expect(cells[header.indexOf('epochs_rejected')]).toBe('18');
  });
});
