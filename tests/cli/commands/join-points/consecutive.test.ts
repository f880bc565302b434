import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../../support/run-in-process.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-join-consecutive-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Points about the meridian of EPSG:32755; some have no height, some are rejected and have no place, some rows are in error. */
function pointsFile(seed: number, count: number): string {
  let state = seed;
  const random = { next: (): number => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647 };
  for (let drawn = 0; drawn < 10; drawn += 1) random.next();
  const lines = Array.from({ length: count }, (_, index) => {
    const kind = random.next();
    if (kind < 0.05) return `P${index},,,,rejected,point-no-accepted-epoch`;
    if (kind < 0.08) return `P${index},not a number,5800000,100,accepted,`;
    const east = (500_000 + 200_000 * (random.next() - 0.5)).toFixed(4);
    const north = (5_800_000 + 200_000 * (random.next() - 0.5)).toFixed(4);
    const reasons = kind > 0.97 ? 'network-unchecked' : '';
    return `P${index},${east},${north},${kind > 0.5 ? (100 * random.next()).toFixed(3) : ''},accepted,${reasons}`;
  });
  return `point_id,easting_m,northing_m,ellipsoidal_height_m,verdict,reasons\n${lines.join('\n')}\n`;
}

async function run(points: string, ...more: readonly string[]): Promise<{ text: string; said: string; exit: number }> {
  writeFileSync(join(folder, 'points.csv'), points);
  const words = ['join-points', 'points.csv', '--system', 'EPSG:32755', '--consecutive', ...more];
  const { stdout, stderr, exit } = await runInProcess(words, { cwd: folder });
  return { text: stdout.toString('utf8'), said: stderr, exit };
}

describe('join-points --consecutive', () => {
  // With a page all lines are held; without one each is written when its end is read.
  it('writes what it writes when all lines are held, in words and rows', async () => {
    for (const seed of [1, 2, 3, 4]) {
      const points = pointsFile(seed, 150);
      for (const format of ['csv', 'geojson', 'jsonl'] as const) {
        const how = ['--format', format, '--on-error', 'skip'];
        const streamed = await run(points, ...how);
        const held = await run(points, ...how, '--report', `page-${seed}-${format}.html`);
        expect(streamed).toStrictEqual(held);
        expect(streamed.text.split('\n').length).toBeGreaterThan(100);
      }
    }
  });

  it('refuses what it refuses when all lines are held', async () => {
    const bad = pointsFile(5, 150);
    const one = 'point_id,easting_m,northing_m\nA,500000,5800000\n';
    for (const [points, seen] of [
      [bad, 'not a number'],
      [one, 'a line needs two'],
    ] as const) {
      const streamed = await run(points);
      expect(streamed).toStrictEqual(await run(points, '--report', 'refused.html'));
      expect(streamed.text).toBe('');
      expect(streamed.said).toContain(seen);
      expect(streamed.exit).toBe(3);
    }
  });
});
