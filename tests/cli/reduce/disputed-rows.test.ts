import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import { seededRandom } from '../../support/seeded-random.js';

// Stands of one point that contradict each other say so in their rows, wherever these go and however they were made.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-disputed-'));
const SESSION =
  'version = 1\n[system]\ngrid = "EPSG:2049"\n[rover]\nreference_point = "arp"\nphase_centre_offset_m = 0\npole_length_m = 2\n';
const BUILT = existsSync(join(ROOT, 'dist', 'program', 'main.js'));
const COUNT = 300;
/** The second round of these is off in height; the rest agree. */
const OFF_M: Readonly<Record<string, number>> = { P007: 0.3, P150: -0.4, P299: 0.25 };

function fixes(): string {
  const random = seededRandom(61);
  const lines = ['point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,note'];
  for (const round of [0, 1]) {
    for (let i = 0; i < COUNT; i += 1) {
      const id = `P${String(i).padStart(3, '0')}`;
      for (let epoch = 0; epoch < 4; epoch += 1) {
        const at = new Date(Date.UTC(2026, 2, 4, 6 + 6 * round) + 1000 * (20 * i + epoch)).toISOString();
        const heightM = 1040 + (round === 1 ? (OFF_M[id] ?? 0) : 0) + 0.003 * random.normal();
        lines.push(`${id},${at},${(-31.5 + 0.0001 * i).toFixed(9)},21.2,${heightM.toFixed(4)},fixed,n${String(i % 7)}`);
      }
    }
  }
  return `${lines.join('\n')}\n`;
}

writeFileSync(join(folder, 'fixes.csv'), fixes());
writeFileSync(join(folder, 'session.toml'), SESSION);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const run = async (...more: string[]): ReturnType<typeof runInProcess> =>
  runInProcess(['reduce-points', 'fixes.csv', '--session', 'session.toml', '--force', ...more], { cwd: folder });
const rowsOf = (text: string): readonly string[][] =>
  text
    .trimEnd()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));

describe('occupations that contradict each other', () => {
  it('are for review in their own rows, and nothing else is', async () => {
    const { exit, stdout, stderr } = await run();
    expect(exit).toBe(1);
    const text = stdout.toString('utf8');
    const verdict = text.split('\n')[0]?.split(',').indexOf('verdict') ?? -1;
    const rows = rowsOf(text);
    expect(rows.length).toBe(2 * COUNT);
    const doubted = rows
      .filter((row) => row[verdict] !== 'accepted')
      .map((row) => [row[0], row[1], row[verdict], row[verdict + 1]]);
    expect(doubted).toEqual(
      ['1', '2'].flatMap((occupation) =>
        Object.keys(OFF_M).map((id) => [id, occupation, 'review', 'point-repeat-disagrees']),
      ),
    );
    expect(stderr).toContain(
      `${String(2 * COUNT)} points: ${String(2 * COUNT - 6)} accepted, 6 for review, 0 rejected`,
    );
  });

  it('are so in a file, with threads, and where rows were held until the end', async () => {
    const text = (await run()).stdout.toString('utf8');
    await run('--output', 'points.csv');
    expect(readFileSync(join(folder, 'points.csv'), 'utf8')).toBe(text);
    await run('--output', 'held.csv', '--variance-factor', 'estimated');
    expect(readFileSync(join(folder, 'held.csv'), 'utf8')).toBe(text);
    const bare = (await run('--omit-header')).stdout.toString('utf8');
    expect(bare).toBe(text.slice(text.indexOf('\n') + 1));
  });

  it.skipIf(!BUILT)(
    'are so with threads (skipped until npm run build has been run)',
    async () => {
      const text = (await run()).stdout.toString('utf8');
      const { stderr } = spawnSync(
        process.execPath,
        [
          join(ROOT, 'bin', 'pegbook.js'),
          'reduce-points',
          'fixes.csv',
          '--session',
          'session.toml',
          '--output',
          'threads.csv',
          '--workers',
          '3',
        ],
        { cwd: folder, encoding: 'utf8' },
      );
      expect(stderr).toContain('6 for review');
      expect(readFileSync(join(folder, 'threads.csv'), 'utf8')).toBe(text);
    },
    60_000,
  );

  it('have the verdict that joining gives them', async () => {
    const verdictsOf = (text: string): ReadonlyMap<string, string> => {
      const verdict = text.split('\n')[0]?.split(',').indexOf('verdict') ?? -1;
      return new Map(
        rowsOf(text)
          .filter((row) => OFF_M[row[0] ?? ''] !== undefined)
          .map((row) => [`${row[0] ?? ''}@${row[1] ?? ''}`, `${row[verdict] ?? ''} ${row[verdict + 1] ?? ''}`]),
      );
    };
    expect(verdictsOf((await run()).stdout.toString('utf8'))).toEqual(
      verdictsOf((await run('--combine')).stdout.toString('utf8')),
    );
  });

  it('say so in GeoJSON, in JSON, in the record, on the page and in their working', async () => {
    const geojson = JSON.parse((await run('--format', 'geojson')).stdout.toString('utf8')) as {
      features: { properties: Record<string, string | null> }[];
    };
    expect(
      geojson.features
        .filter(({ properties }) => properties['reasons'] !== null)
        .map(({ properties }) => [properties['point_id'], properties['verdict'], properties['reasons']]),
    ).toEqual([0, 1].flatMap(() => Object.keys(OFF_M).map((id) => [id, 'review', 'point-repeat-disagrees'])));
    const json = JSON.parse(
      (await run('--format', 'json', '--record', 'record.json', '--report', 'page.html')).stdout.toString('utf8'),
    ) as { points: { verdict: string; reasons: string[] }[] };
    expect(json.points.filter(({ verdict }) => verdict === 'review').map(({ reasons }) => reasons)).toEqual(
      Array.from({ length: 6 }, () => ['point-repeat-disagrees']),
    );
    expect(JSON.parse(readFileSync(join(folder, 'record.json'), 'utf8'))).toMatchObject({
      verdict: 'no',
      verdict_counts: { accepted: 2 * COUNT - 6, review: 6, rejected: 0 },
      reason_counts: { 'point-repeat-disagrees': 6 },
      repeats_compared: true,
    });
    expect(
      /<tr[^>]*>(?:(?!<\/tr>).)*P150(?:(?!<\/tr>).)*point-repeat-disagrees/su.test(
        readFileSync(join(folder, 'page.html'), 'utf8'),
      ),
    ).toBe(true);
    expect((await run('--explain', 'P150@2')).stdout.toString('utf8')).toContain('point-repeat-disagrees');
  });
});
