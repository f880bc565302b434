import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';

// GPSD project test logs (BSD-2-Clause), 122 GGA positions at 10 Hz: a walk under quality 2, ten
// minutes of nothing, then 18 fixed epochs. The file is not part of this repository.
const LOG = fileURLToPath(new URL('../../../shared/data/nmea-rtk-moving.nmea', import.meta.url));
const present = existsSync(LOG);
if (!present) console.warn('skipped: the real log is not here');

describe.skipIf(!present)('a real NMEA 0183 log of a moving antenna', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-log-'));
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it('accepts the 18 fixed epochs, refuses the 104 others as not fixed, and passes no mean off as a point', async () => {
    const result = await runInProcess(
      ['reduce-points', LOG, '--system', 'EPSG:32615', '--pole-length', '2', '--phase-centre-offset', '0', '--epochs', 'epochs.csv'],
      { cwd: folder },
    );
    expect(result.exit).toBe(1);
    const epochs = readFileSync(join(folder, 'epochs.csv'), 'utf8').trim().split('\n').slice(1);
    expect(epochs).toHaveLength(122);
    expect(epochs.filter((row) => row.includes(',accepted,,'))).toHaveLength(18);
    expect(epochs.filter((row) => row.includes(',refused,epoch-not-fixed,'))).toHaveLength(104);
    const points = result.stdout.toString('utf8').trim().split('\n');
    expect(points).toHaveLength(2);
    const cells = points[1]?.split(',') ?? [];
    const header = points[0]?.split(',') ?? [];
    expect(cells[header.indexOf('verdict')]).toBe('rejected');
    expect(cells[header.indexOf('reasons')]).toContain('point-antenna-moving');
    expect(cells[header.indexOf('easting_m')]).toBe('');
    expect(cells[header.indexOf('epochs_used')]).toBe('18');
    expect(cells[header.indexOf('epochs_rejected')]).toBe('104');
  });
});
