import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';

const cwd = mkdtempSync(join(tmpdir(), 'pegbook-odd-'));
afterAll(() => {
  rmSync(cwd, { recursive: true, force: true });
});

async function draft(
  content: string | Buffer,
  ...more: readonly string[]
): Promise<{ readonly exit: number; readonly text: string; readonly stderr: string }> {
  writeFileSync(join(cwd, 'odd.csv'), content);
  const { exit, stdout, stderr } = await runInProcess(['draft-session', 'odd.csv', ...more], { cwd });
  return { exit, text: stdout.toString('utf8'), stderr };
}

const HEAD = 'Point,Latitude,Longitude,Ellipsoidal height';
const ROW = 'A,-31.5,21.4,1043.2';

describe('draft-session of a file that is none', () => {
  it.each([
    ['an empty file', '', 3, 'csv-empty'],
    ['a header alone', `${HEAD}\n`, 3, 'csv-empty'],
    ['bytes that are no text', Buffer.from([0x50, 0x4b, 0x03, 0x04, 0x00, 0x01, 0xff, 0x0a]), 3, 'file-encoding'],
    ['two columns of one name', `${HEAD},Point\n${ROW},x\n`, 3, 'csv-duplicate-column'],
  ])('refuses %s', async (_, content, exit, code) => {
    const found = await draft(content);
    expect(found.exit).toBe(exit);
    expect(found.stderr).toContain(`[${code}]`);
    expect(found.text).toBe('');
  });

  it('refuses a file that is not there, and files that are written in two ways', async () => {
    const missing = await runInProcess(['draft-session', 'nowhere.csv'], { cwd });
    expect([missing.exit, missing.stderr]).toEqual([4, expect.stringContaining('[file-not-found]')]);
    writeFileSync(join(cwd, 'other.csv'), `${HEAD.replaceAll(',', ';')}\n${ROW.replaceAll(',', ';')}\n`);
    const two = await draft(`${HEAD}\n${ROW}\n`, 'other.csv');
    expect([two.exit, two.stderr]).toEqual([
      2,
      expect.stringContaining('other.csv is written another way than odd.csv'),
    ]);
  });
});

describe('draft-session of an odd table', () => {
  it('makes do with one row, and with standard input', async () => {
    const { exit, text } = await draft(`${HEAD}\n${ROW}\n`);
    expect(exit).toBe(0);
    expect(text).toContain('point_id = "Point"');
    const piped = await runInProcess(['draft-session', '-'], { cwd, stdin: `${HEAD}\n${ROW}\n` });
    expect(piped.stdout.toString('utf8')).toBe(text.replace('odd.csv', 'stdin'));
  });

  it('takes the second of two header lines', async () => {
    const { text } = await draft(`Mark,Position,,\n${HEAD}\n${ROW}\n`);
    expect(text).toContain('skip_lines = 1');
    expect(text).toContain('latitude_deg = "Latitude"');
  });

  it('asks which mark is the decimal one where both occur', async () => {
    const { text } = await draft(`${HEAD.replaceAll(',', ';')}\nA;-31,5;21.4;1043,2\n`);
    expect(text).toContain('decimal_mark = "?"');
  });

  it('leaves a column of zeros out: a sigma of 0 would be believed', async () => {
    const { text } = await draft(`${HEAD},Std E,Std N,Std U\n${ROW},0,0,0.00\n`);
    expect(text).toContain('every value is 0');
    expect(text).toContain('# sigma_east_m = "Std E"');
    expect(text).not.toMatch(/^sigma_/mu);
  });

  it('asks where latitude and longitude look exchanged, or hold only 0', async () => {
    const swapped = await draft(`${HEAD}\nA,121.4,-31.5,1043.2\n`);
    expect(swapped.text).toContain('they look exchanged');
    expect(swapped.text).toMatch(/^latitude_deg = "\?"$/mu);
    expect(swapped.text).toMatch(/^longitude_deg = "\?"$/mu);
    const zero = await draft(`${HEAD}\nA,0.0,0.0,1043.2\n`);
    expect(zero.text).toMatch(/^latitude_deg = "\?"$/mu);
  });

  it('never guesses the order of day and month, the zone, the unit of a foot, the kind of a height', async () => {
    const { text } = await draft('Name,Date,Time,Lat,Lon,Z (ft)\nA,05/06/2026,10:00:00,-31.5,21.4,3422.6\n');
    expect(text).toContain('write DD/MM/YYYY HH:mm:ss or MM/DD/YYYY HH:mm:ss');
    expect(text).toContain('epoch_utc = { header = ["Date", "Time"], form = "?", zone = "?" }');
    expect(text).toContain('ellipsoidal_height_m = { header = "?", unit = "?" }');
    // A later row settles the order.
    const settled = await draft('Name,UTC,Lat,Lon,Z\nA,05/06/2026 10:00,1,2,3\nA,13/06/2026 10:00,1,2,3\n');
    expect(settled.text).toContain('form = "DD/MM/YYYY HH:mm", zone = "Z"');
  });

  it('asks for lengths that are hardly metres', async () => {
    const { text } = await draft(`${HEAD},Pole,HRMS\n${ROW},6.562,14\n`);
    expect(text).toContain('pole_length_m = { header = "Pole", unit = "?" }');
    expect(text).toContain('sigma_horizontal_m = { header = "HRMS", unit = "?", means = "?" }');
  });

  it('asks which of two columns it is where both bear a name of it', async () => {
    const { text } = await draft(`Point,Name,Latitude,Longitude,Ellipsoidal height\nA,b,-31.5,21.4,1043.2\n`);
    expect(text).toContain('"Point" and "Name" could each be it');
    expect(text).toMatch(/^point_id = "\?"$/mu);
  });

  it('names bases and their days, the limits that columns allow, and systems that hold the place', async () => {
    const { text } = await draft(
      `${HEAD},UTC,Base,PDOP\n${ROW},2026-05-23T06:00:00Z,B1,1.2\n${ROW},2026-05-23T06:00:30Z,B1,1.9\n${ROW},2026-05-24T06:00:00Z,B1,1.5\n`,
    );
    expect(text.match(/\[\[base\]\]/gu)).toHaveLength(2);
    expect(text).toContain('from_utc = "2026-05-23T06:00:00Z"\nto_utc = "2026-05-23T06:01:00Z"');
    expect(text).toContain('# "PDOP" holds 1.2 to 1.9\n# max_pdop = "?"');
    expect(text).toContain('EPSG:32734 WGS 84 / UTM zone 34S');
    expect(text).toContain('EPSG:2049');
  });

  it('says in JSON what it says in TOML', async () => {
    const { text } = await draft(`${HEAD}\n${ROW}\n`, '--format', 'json');
    const said = JSON.parse(text) as {
      readonly summary: { readonly asked: number };
      readonly lines: readonly { readonly key: string; readonly is_asked: boolean }[];
    };
    expect(said.summary.asked).toBe(said.lines.filter(({ is_asked: isAsked }) => isAsked).length);
    expect(said.lines.map(({ key }) => key)).toContain('columns.ellipsoidal_height_m');
    const csv = await draft(`${HEAD}\n${ROW}\n`, '--format', 'csv');
    expect([csv.exit, csv.stderr]).toEqual([2, expect.stringContaining('[usage-conflict]')]);
  });
});

describe('--answer', () => {
  it('takes lines away, adds lines, and answers every set-up of a base', async () => {
    const table = `${HEAD},UTC,Base\n${ROW},2026-05-23T06:00:00Z,B.1\n${ROW},2026-05-24T06:00:00Z,B.1\n`;
    const { text } = await draft(
      table,
      ...[
        '--answer',
        'base.B.1.broadcast={ latitude_deg = 1, longitude_deg = 2, ellipsoidal_height_m = 3, at = "arp" }',
      ],
      ...['--answer', 'tolerance.horizontal_m=0.05', '--answer', 'rover=none'],
    );
    expect(text.match(/^broadcast = \{ latitude_deg = 1/gmu)).toHaveLength(2);
    expect(text).toContain('[tolerance]\n# answered with the command\nhorizontal_m = 0.05');
    expect(text).not.toContain('[rover]');
  });

  it.each(['grid', 'system.grid', 'system.grid=', '=x'])('refuses %s', async (answer) => {
    const { exit, stderr } = await draft(`${HEAD}\n${ROW}\n`, '--answer', answer);
    expect([exit, stderr]).toEqual([2, expect.stringContaining('[usage-invalid]')]);
  });

  it('refuses a draft that its answers spoilt', async () => {
    const { exit, stderr } = await draft(
      `${HEAD}\n${ROW}\n`,
      ...['system.grid=EPSG:32734', 'system.fixes=EPSG:4326', 'rover.reference_point=top'].flatMap((answer) => [
        '--answer',
        answer,
      ]),
      ...['rover.phase_centre_offset_m=0', 'rover.pole_length_m=2', 'table.solution=fixed'].flatMap((answer) => [
        '--answer',
        answer,
      ]),
    );
    expect([exit, stderr]).toEqual([2, expect.stringContaining('[config-invalid-value]')]);
  });
});

it('a session that asks is refused by every command that takes one', async () => {
  const { text } = await draft(`${HEAD}\n${ROW}\n`);
  writeFileSync(join(cwd, 'open.toml'), text);
  const line = text.split('\n').indexOf('grid = "?"') + 1;
  writeFileSync(join(cwd, 'points.csv'), 'point_id,easting_m,northing_m\nA,1,2\n');
  for (const command of [
    ['reduce-points', 'odd.csv'],
    ['check-tolerances', 'points.csv', '--repeats', '--limit-horizontal', '1'],
    ['plan-baseline', 'points.csv', '--base', '1,2'],
  ]) {
    const { exit, stderr } = await runInProcess([...command, '--session', 'open.toml'], { cwd });
    expect(exit, command[0]).toBe(2);
    expect(stderr, command[0]).toContain(`open.toml:${String(line)}: system.grid: is still "?" [config-unanswered]`);
  }
});

it('positions of another sign are warned of by the area of the answered system, and their points are not accepted', async () => {
  writeFileSync(join(cwd, 'odd.csv'), `${HEAD}\nA,-31.5,-21.4,1043.2\n`);
  const answers = [
    'system.grid=EPSG:32734',
    'system.fixes=EPSG:4326',
    'rover.reference_point=tip',
    'table.solution=fixed',
  ].flatMap((answer) => ['--answer', answer]);
  const drafted = await runInProcess(['draft-session', 'odd.csv', ...answers, '-o', 'signed.toml', '--force'], { cwd });
  expect(drafted.stderr).toContain('they would lie in it with longitudes of the other sign: check the columns');
  const { stdout } = await runInProcess(['reduce-points', 'odd.csv', '--session', 'signed.toml'], { cwd });
  expect(stdout.toString('utf8')).toContain('point-outside-area');
  expect(stdout.toString('utf8')).not.toContain('accepted');
});
