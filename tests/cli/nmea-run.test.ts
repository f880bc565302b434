import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';
import { pointRows } from '../support/point-rows.js';

// What a log said and a reduction did not hear: who speaks, from which base, over which geoid, when.
const BASE = (id: string, more = ''): string => `[[base]]
id = "${id}"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
${more}`;
const SESSION = (bases: string): string => `version = 1
[system]
grid = "EPSG:2049"
[height]
geoid = "egm96"
[rover]
reference_point = "arp"
pole_length_m = 2.0
${bases}`;
const NAMES =
  'point_id,from_utc,to_utc\nA,2026-03-04T06:00:00Z,2026-03-04T06:00:09Z\nB,2026-03-04T07:00:00Z,2026-03-04T07:05:00Z\n';
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-nmea-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function sentence(body: string): string {
  let sum = 0;
  for (const character of body) sum ^= character.charCodeAt(0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}\r\n`;
}

interface Said {
  readonly station?: string;
  readonly separationM?: number;
  readonly talker?: string;
  readonly altitudeM?: number;
}

/** EGM96 is 35.81 m here. */
function gga(
  second: number,
  { station = '0133', separationM = 35.2, talker = 'GN', altitudeM = 1008 }: Said = {},
): string {
  return sentence(
    `${talker}GGA,0600${String(second).padStart(2, '0')}.00,3130.6000000,S,02124.6000000,E,4,14,0.8,${altitudeM.toFixed(3)},M,${separationM.toFixed(3)},M,1.2,${station}`,
  );
}

const DATE = sentence('GNRMC,060000.00,A,3130.60,S,02124.60,E,0.0,,040326,,,R');
const tenSeconds = (said: (second: number) => Said = () => ({})): string =>
  DATE + Array.from({ length: 10 }, (_, second) => gga(second, said(second))).join('');

async function reduce(
  log: string,
  options: readonly string[] = [],
  session = SESSION(BASE('133')),
): Promise<RunResult> {
  writeFileSync(join(folder, 'log.nmea'), log);
  writeFileSync(join(folder, 's.toml'), session);
  writeFileSync(join(folder, 'names.csv'), NAMES);
  return runInProcess(['reduce-points', 'log.nmea', '--session', 's.toml', ...options], { cwd: folder });
}

describe('a log reduced', () => {
  it('joins station 0133 with base 133 and says nothing of the log', async () => {
    const run = await reduce(tenSeconds());
    expect([run.exit, run.stderr.match(/\[[a-z-]+\]/gu)]).toEqual([0, ['[geoid-coarse]', '[config-unstated]']]);
    expect(pointRows(run)).toMatchObject([{ point_id: 'log', base_id: '133', epochs_used: '10', verdict: 'accepted' }]);
  });

  it('begins another occupation where the station changes, whether or not a base has its number, and not where it is lost', async () => {
    const changed = tenSeconds((second) => ({ station: second < 5 ? '0133' : '0007' }));
    const known = await reduce(changed, [], SESSION(BASE('133') + BASE('7')));
    expect(pointRows(known)).toMatchObject([
      { base_id: '133', occupation: '1', epochs_used: '5' },
      { base_id: '7', occupation: '2', epochs_used: '5' },
    ]);
    expect(known.stderr).not.toContain('nmea-station-unknown');
    const unknown = await reduce(changed, [], SESSION(BASE('B1')));
    expect(pointRows(unknown)).toMatchObject([
      { base_id: 'B1', epochs_used: '5' },
      { base_id: 'B1', epochs_used: '5' },
    ]);
    expect(unknown.stderr.match(/\[nmea-station-unknown\]/gu)).toHaveLength(1);
    expect(unknown.stderr).toContain(
      'stations 0133 (5 epochs), 0007 (5 epochs), and no base of the session has these numbers: B1',
    );
    expect(pointRows(await reduce(tenSeconds((second) => ({ station: second === 4 ? '' : '0133' }))))).toMatchObject([
      { epochs_used: '10' },
    ]);
  });

  it('refuses a station whose base was not running, as a table does', async () => {
    const run = await reduce(tenSeconds(), [], SESSION(BASE('133', 'to_utc = "2026-03-04T05:00:00Z"')));
    expect(run.exit).toBe(3);
    expect(run.stderr).toContain('under the name 133 [base-unknown]');
  });

  it('refuses two talkers that differ and reads the one of --talker', async () => {
    const two =
      DATE +
      Array.from({ length: 10 }, (_, second) => gga(second) + gga(second, { talker: 'GP', altitudeM: 1011 })).join('');
    const refused = await reduce(two);
    expect(refused.exit).toBe(3);
    expect(refused.stderr).toContain(
      'log.nmea:2: line 3 has another position of this time: GN here and GP there [nmea-two-positions]',
    );
    const asked = await reduce(two, ['--talker', 'GN']);
    expect([asked.exit, asked.stdout.toString()]).toEqual([0, (await reduce(tenSeconds())).stdout.toString()]);
    expect((await reduce(two, ['--talker', 'GPS'])).stderr).toContain('--talker names no talker');
  });

  it.each([
    [35.81 + 2.9, 'nothing'],
    [35.81 - 2.9, 'nothing'],
    [-35.81, 'the same with the other sign'],
    [35.81 - 9, 'a difference of -9.'],
  ])('says of a separation of %d m %s', async (separationM, words) => {
    const run = await reduce(tenSeconds(() => ({ separationM })));
    expect(run.exit).toBe(0);
    if (words === 'nothing') expect(run.stderr).not.toContain('geoid-separation-differs');
    else
      expect(run.stderr).toMatch(
        new RegExp(
          String.raw`log\.nmea:2: warning: point log: the receiver's geoid separation is ${separationM.toFixed(3)} m and \S+ gives 35\.\d+ m, ${words}.*\[geoid-separation-differs\]`,
          'u',
        ),
      );
  });

  it('gives a named occupation without epochs as a point rejected, and ends with 1', async () => {
    for (const more of [[], ['--combine'], ['--format', 'json'], ['--format', 'geojson']]) {
      const run = await reduce(tenSeconds(), ['--occupations', 'names.csv', ...more]);
      expect(run.exit).toBe(1);
      expect(run.stderr).toContain('2 points: 1 accepted, 0 for review, 1 rejected');
      expect(run.stdout.toString()).toContain('point-no-epochs');
    }
    const run = await reduce(tenSeconds(), [
      '--occupations',
      'names.csv',
      '--record',
      'run.json',
      '--report',
      'page.html',
      '--force',
    ]);
    expect(pointRows(run)).toMatchObject([
      { point_id: 'A', verdict: 'accepted' },
      {
        point_id: 'B',
        occupation: '1',
        verdict: 'rejected',
        reasons: 'point-no-epochs',
        epochs_used: '0',
        epochs_rejected: '0',
        first_epoch_utc: '',
        latitude_deg: '',
      },
    ]);
    expect(JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8'))).toMatchObject({
      verdict_counts: { accepted: 1, rejected: 1 },
      reason_counts: { 'point-no-epochs': 1 },
      exit_code: 1,
    });
    expect(readFileSync(join(folder, 'page.html'), 'utf8')).toContain('point-no-epochs');
  });

  it('ends with 1 where nothing makes a point', async () => {
    const none = await reduce(tenSeconds().replaceAll(/\$GNGGA.*\r\n/gu, ''));
    expect([none.exit, none.stderr.includes('0 points'), none.stderr.includes('verdict: no')]).toEqual([1, true, true]);
    writeFileSync(
      join(folder, 'f.csv'),
      'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution\nA,2026-03-04T06:00:00Z,95,21,1,fixed\n',
    );
    const skipped = await runInProcess(['reduce-points', 'f.csv', '--session', 's.toml', '--on-error', 'skip'], {
      cwd: folder,
    });
    expect([skipped.exit, skipped.stderr.includes('0 points')]).toEqual([1, true]);
  });

  it('takes no option of logs where there is none', async () => {
    writeFileSync(
      join(folder, 'f.csv'),
      'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution\nA,2026-03-04T06:00:00Z,-31.5,21,1,fixed\n',
    );
    for (const option of [
      ['--talker', 'GN'],
      ['--occupations', 'names.csv'],
    ]) {
      const run = await runInProcess(['reduce-points', 'f.csv', '--session', 's.toml', ...option], { cwd: folder });
      expect([run.exit, run.stderr.includes('[usage-conflict]')], run.stderr).toEqual([2, true]);
    }
  });

  it('names the rollover beside the base that was not running then', async () => {
    const log = tenSeconds().replace(DATE, sentence('GNRMC,060000.00,A,3130.60,S,02124.60,E,0.0,,190706,,,R'));
    const run = await reduce(
      log,
      [],
      SESSION(BASE('133', 'from_utc = "2026-03-04T05:00:00Z"\nto_utc = "2026-03-04T09:00:00Z"')),
    );
    expect(run.exit).toBe(3);
    expect(run.stderr).toContain('the date is 2026-03-04T06:00:00Z [nmea-week-rollover]');
  });
});
