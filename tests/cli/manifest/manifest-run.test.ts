import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import type { RunResult } from '../../support/run-in-process.js';

const FIRST_USE = join(ROOT, 'examples', 'first-use');
const HEADER = 'fixes,session,output,record';

let folder = '';
const at = (name: string): string => join(folder, 'Meßdaten 1', name);
const textOf = (name: string): string => readFileSync(at(name), 'utf8');

/** Three sessions of one day each, in a folder with a space and an umlaut. */
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-manifest-'));
  for (const day of ['day-1', 'day-2', 'day-3']) {
    mkdirSync(at(day), { recursive: true });
    cpSync(FIRST_USE, at(day), { recursive: true });
  }
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const row = (day: number): string =>
  `day-${String(day)}/fixes.csv,day-${String(day)}/session.toml,day-${String(day)}/points.csv,day-${String(day)}/run.json`;
function manifest(lines: readonly string[], eol = '\n'): void {
  writeFileSync(at('sessions.csv'), lines.map((line) => `${line}${eol}`).join(''));
}
/** From the folder above that of the manifest. */
function reduce(...words: readonly string[]): Promise<RunResult> {
  return runInProcess(['reduce-points', '--manifest', 'Meßdaten 1/sessions.csv', ...words], { cwd: folder });
}

describe('the entries of a manifest', () => {
  it('are counted from 1 without comments and blank lines, with the line ends of any system', async () => {
    manifest(['# invented', HEADER, '', row(1), '# two more', '', row(2), row(3), ''], '\r\n');
    expect((await reduce('--count')).stdout.toString()).toBe('3\n');
    const second = await reduce('--index', '2');
    expect(second.exit, second.stderr).toBe(0);
    expect(readdirSync(at('day-2'))).toContain('points.csv');
    expect(readdirSync(at('day-1'))).not.toContain('points.csv');
    expect(readdirSync(at('day-3'))).not.toContain('points.csv');
  });

  it('leave the bytes that their commands leave, and a record that says no more than which files it read and wrote', async () => {
    manifest([HEADER, row(1)]);
    expect((await reduce()).exit).toBe(0);
    const record = JSON.parse(textOf('day-1/run.json')) as Record<string, unknown> & { argv: string[]; entry: object };
    const points = textOf('day-1/points.csv');
    const typed = await runInProcess([...record.argv, '--force'], { cwd: at('') });
    expect(typed.exit).toBe(0);
    expect(textOf('day-1/points.csv')).toBe(points);
    const plain = JSON.parse(textOf('day-1/run.json')) as Record<string, unknown>;
    const { entry, ...rest } = record;
    expect({ ...plain, argv: record.argv }).toEqual(rest);
    expect(entry).toMatchObject({
      inputs: [{ name: 'day-1/session.toml' }, { name: 'day-1/fixes.csv' }],
      outputs: [{ name: 'day-1/points.csv' }],
    });
  });

  it('run in turn without --index, go on after one that fails, and end with the highest exit code', async () => {
    manifest([HEADER, row(1), row(2), row(3)]);
    writeFileSync(at('day-2/fixes.csv'), 'no,header,of,ours\n1,2,3,4\n');
    const run = await reduce();
    expect(run.exit).toBe(3);
    expect(readdirSync(at('day-3'))).toContain('points.csv');
    expect(run.stderr).toContain('3 entries: 2 run, 0 done before, 1 failed');
  });

  it.each(['0', '4'])('are refused by number with their bounds: --index %s', async (index) => {
    manifest([HEADER, row(1), row(2), row(3)]);
    const run = await reduce('--index', index);
    expect(run.exit).toBe(2);
    expect(run.stderr).toContain(`--index ${index}: Meßdaten 1/sessions.csv has 3 entries [usage-invalid]`);
    expect(run.stderr).toContain('give 1 to 3');
  });

  it('take paths of the command line from where it is typed, and those of the manifest from its folder', async () => {
    manifest([
      'fixes,output,record',
      'day-1/fixes.csv,day-1/points.csv,day-1/run.json',
      'day-2/fixes.csv,day-2/points.csv,day-2/run.json',
    ]);
    const run = await reduce('--session', 'Meßdaten 1/day-3/session.toml');
    expect(run.exit, run.stderr).toBe(0);
    expect(textOf('day-1/run.json')).toContain('"day-3/session.toml"');
  });
});

describe('an entry that was run before', () => {
  const second = async (): Promise<RunResult> => reduce('--index', '1');
  const kept = 'done before with the same files, options and program';

  beforeEach(async () => {
    manifest([HEADER, row(1)]);
    expect((await second()).exit).toBe(0);
  });

  it('is not run again, and ends as it ended', async () => {
    const record = textOf('day-1/run.json');
    const again = await second();
    expect(again.stderr).toContain(kept);
    expect(again.exit).toBe(0);
    expect(textOf('day-1/run.json')).toBe(record);
  });

  it('is not run again by whoever stands in another folder', async () => {
    const again = await runInProcess(['reduce-points', '--manifest', 'sessions.csv', '--index', '1'], { cwd: at('') });
    expect(again.stderr).toContain(kept);
  });

  it('may be run twice at once: both end well, with the same bytes', async () => {
    const record = textOf('day-1/run.json');
    const points = textOf('day-1/points.csv');
    for (let round = 0; round < 3; round += 1) {
      rmSync(at('day-1/run.json'));
      rmSync(at('day-1/points.csv'));
      const runs = await Promise.all([second(), second(), second()]);
      expect(
        runs.map(({ exit }) => exit),
        runs.map(({ stderr }) => stderr).join('\n'),
      ).toEqual([0, 0, 0]);
      expect([textOf('day-1/run.json'), textOf('day-1/points.csv')]).toEqual([record, points]);
    }
  });

  it('ends with 1 again where its answer is no', async () => {
    writeFileSync(at('day-1/session.toml'), `${textOf('day-1/session.toml')}\n[tolerance]\nhorizontal_m = 0.0001\n`);
    const ended = await second();
    expect((await second()).exit).toBe(ended.exit);
  });

  it.each(['day-1/fixes.csv', 'day-1/session.toml'])('is run again where %s is another', async (name) => {
    writeFileSync(at(name), `${textOf(name)}\n`);
    const again = await second();
    expect(again.stderr).toContain(`again, ${name} is another now`);
    expect(again.exit, again.stderr).toBe(0);
    expect((await second()).stderr).toContain(kept);
  });

  it('is run again with other options, of the command line or of the manifest', async () => {
    const other = await reduce('--index', '1', '--pole-length', '1.5');
    expect(other.stderr).toContain('again, it was run without --pole-length 1.5');
    expect(other.exit, other.stderr).toBe(0);
    manifest([`${HEADER},pole_length`, `${row(1)},1.5`]);
    expect((await second()).stderr).toContain(kept);
  });

  it('is run again by another version of the program', async () => {
    writeFileSync(
      at('day-1/run.json'),
      textOf('day-1/run.json').replace(/"tool_version": "[^"]*"/u, '"tool_version": "0.0.1"'),
    );
    expect((await second()).stderr).toContain('again, it was run by version 0.0.1');
  });

  it('does not count how it was run: threads, words, colour', async () => {
    expect((await reduce('--index', '1', '--workers', '1', '--verbose', '--no-color')).stderr).toContain(kept);
  });

  it('is run again with --force', async () => {
    const forced = await reduce('--index', '1', '--force');
    expect(forced.stderr).toContain('2 points');
    expect(forced.exit).toBe(0);
  });

  it('is made whole where an output was lost', async () => {
    const points = textOf('day-1/points.csv');
    rmSync(at('day-1/points.csv'));
    expect((await second()).stderr).toContain('again, day-1/points.csv is not there');
    expect(textOf('day-1/points.csv')).toBe(points);
  });

  it('never overwrites an output that was edited by hand, until --force says so', async () => {
    const points = textOf('day-1/points.csv');
    writeFileSync(at('day-1/points.csv'), `${points}edited\n`);
    const refused = await second();
    expect(refused.exit).toBe(4);
    expect(refused.stderr).toContain('day-1/points.csv: exists already, and holds something else');
    expect(textOf('day-1/points.csv')).toBe(`${points}edited\n`);
    expect((await second()).exit, 'nor the second time').toBe(4);
    expect(textOf('day-1/points.csv')).toBe(`${points}edited\n`);
    expect((await reduce('--index', '1', '--force')).exit).toBe(0);
    expect(textOf('day-1/points.csv')).toBe(points);
  });

  it('keeps an edited output also where an input changed, and replaces one that it wrote itself', async () => {
    writeFileSync(at('day-1/fixes.csv'), textOf('day-1/fixes.csv').replaceAll('TANK', 'POND'));
    writeFileSync(at('day-1/points.csv'), 'edited\n');
    expect((await second()).exit).toBe(4);
    expect(textOf('day-1/points.csv')).toBe('edited\n');
    rmSync(at('day-1/points.csv'));
    expect((await second()).exit).toBe(0);
    writeFileSync(at('day-1/fixes.csv'), textOf('day-1/fixes.csv').replaceAll('POND', 'TANK'));
    expect((await second()).exit).toBe(0);
    expect(textOf('day-1/points.csv')).toContain('TANK');
  });

  it('recovers from a run that was killed between its data and its record', async () => {
    const record = textOf('day-1/run.json');
    rmSync(at('day-1/run.json'));
    const again = await second();
    expect(again.exit, again.stderr).toBe(0);
    expect(textOf('day-1/run.json')).toBe(record);
  });

  it('is held up by no failure: mended, it runs without --force and replaces what it wrote before', async () => {
    const good = textOf('day-1/fixes.csv');
    writeFileSync(at('day-1/fixes.csv'), good.replace(/-3\d\.\d+/u, '95.2'));
    const failed = await second();
    expect(failed.exit).toBe(3);
    const record = JSON.parse(textOf('day-1/run.json')) as { entry: { problem: object; outputs: object[] } };
    expect(record.entry.problem).toMatchObject({ code: 'latitude-out-of-range', where: { source: 'day-1/fixes.csv' } });
    expect(record.entry.outputs).toMatchObject([{ name: 'day-1/points.csv' }]);
    writeFileSync(at('day-1/fixes.csv'), good.replaceAll('TANK', 'POND'));
    const mended = await second();
    expect(mended.stderr).toContain('again, its last run failed');
    expect(mended.exit, mended.stderr).toBe(0);
    expect(textOf('day-1/points.csv')).toContain('POND');
  });

  it('keeps a page that was edited, and says so in its record; its data are written, and a page that is as it was is replaced', async () => {
    manifest([`${HEADER},report`, `${row(1)},day-1/day.html`]);
    expect((await second()).exit).toBe(0);
    const page = textOf('day-1/day.html');
    writeFileSync(at('day-1/day.html'), 'edited\n');
    expect((await second()).exit).toBe(4);
    expect(textOf('day-1/day.html')).toBe('edited\n');
    const record = JSON.parse(textOf('day-1/run.json')) as { entry: { problem: object; outputs: object[] } };
    expect(record.entry.problem).toMatchObject({ code: 'file-output-exists' });
    expect(record.entry.outputs).toMatchObject([{ name: 'day-1/points.csv' }, { name: 'day-1/day.html' }]);
    writeFileSync(at('day-1/day.html'), page);
    writeFileSync(at('day-1/fixes.csv'), textOf('day-1/fixes.csv').replaceAll('TANK', 'POND'));
    expect((await second()).exit).toBe(0);
    expect(textOf('day-1/day.html')).toContain('POND');
  });

  it('is done with a job too, whose ledger grows with each run', async () => {
    writeFileSync(
      at('job.toml'),
      `version = 1\n[shared]\nsession = "day-1/session.toml"\n[[day]]\nid = "1"\nfixes = ["day-1/fixes.csv"]\n`,
    );
    manifest(['job,output,record', 'job.toml,job.csv,job.json']);
    expect((await second()).exit).toBe(0);
    expect((await second()).stderr).toContain(kept);
    expect(textOf('job-ledger.jsonl').trim().split('\n').length).toBe(1);
    writeFileSync(at('day-1/session.toml'), `${textOf('day-1/session.toml')}# seen\n`);
    expect((await second()).stderr).toContain('again, day-1/session.toml is another now');
    expect(textOf('job-ledger.jsonl').trim().split('\n').length).toBe(2);
  });

  it('does not take the place of a file that is none of its own', async () => {
    writeFileSync(at('day-1/run.json'), '{"mine": true}\n');
    const refused = await second();
    expect(refused.exit).toBe(4);
    expect(textOf('day-1/run.json')).toBe('{"mine": true}\n');
    manifest([`${HEADER},problems`, `${row(2)},day-2/notes.txt`]);
    writeFileSync(at('day-2/notes.txt'), 'mine\n');
    expect((await second()).exit).toBe(4);
    expect(textOf('day-2/notes.txt')).toBe('mine\n');
  });

  it('writes its problems anew', async () => {
    manifest([`${HEADER},problems`, `${row(2)},day-2/problems.jsonl`]);
    const good = textOf('day-2/fixes.csv');
    writeFileSync(at('day-2/fixes.csv'), good.replace(/-3\d\.\d+/u, '95.2'));
    expect((await second()).exit).toBe(3);
    expect(textOf('day-2/problems.jsonl')).toContain('latitude-out-of-range');
    writeFileSync(at('day-2/fixes.csv'), good);
    expect((await second()).exit).toBe(0);
    expect(textOf('day-2/problems.jsonl')).not.toContain('latitude-out-of-range');
  });
});

describe('a manifest that is wrong', () => {
  it.each([
    [
      'a column that is none',
      ['fixes,sesion,output,record', row(1)],
      'sessions.csv:1:2: "sesion" is no column of a manifest for this command [manifest-column-unknown]\n    did you mean session?',
    ],
    ['a column that is missing', ['fixes,session,record', 'a,b,c'], 'output'],
    [
      'an empty cell where there must be a file',
      [HEADER, 'day-1/fixes.csv,day-1/session.toml,,run.json'],
      'sessions.csv:2:3: output',
    ],
    ['a number that is none', [`${HEADER},pole_length`, `${row(1)},two`], 'sessions.csv:2:5: pole_length'],
    ['a word that is none', [`${HEADER},reference_point`, `${row(1)},top`], 'sessions.csv:2:5: reference_point'],
    [
      'an entry twice',
      [HEADER, row(1), row(2), row(1)],
      'sessions.csv:4:3: output: day-1/points.csv is written in line 2 (output) too',
    ],
    [
      'outputs that some systems take for one',
      [HEADER, row(1), row(2).replace('day-2/points.csv', 'DAY-1/Points.csv')],
      'sessions.csv:3:3: output: DAY-1/Points.csv is written in line 2 (output) too',
    ],
    [
      'an output that is an input of another',
      [HEADER, row(1).replace('day-1/points.csv', 'day-2/fixes.csv'), row(2)],
      'sessions.csv:2:3: output: day-2/fixes.csv is read in line 3 (fixes) too',
    ],
    [
      'the manifest as an output',
      [HEADER, row(1).replace('day-1/points.csv', 'day-1/../sessions.csv')],
      'sessions.csv:2:3: output: day-1/../sessions.csv is the manifest itself',
    ],
    [
      'standard output',
      [HEADER, row(1).replace('day-1/points.csv', '-')],
      'sessions.csv:2:3: output: - is standard input or output',
    ],
    ['no entry', [HEADER], 'holds a header and no rows'],
  ])('is refused before any work, with its place: %s', async (_, lines, said) => {
    manifest(lines);
    for (const words of [[], ['--index', '1'], ['--count']]) {
      const run = await reduce(...words);
      expect([2, 3], run.stderr).toContain(run.exit);
      expect(run.stderr).toContain(said);
    }
    expect(readdirSync(at('day-1')).sort()).toEqual(['fixes.csv', 'session.toml']);
  });

  it.each([
    [['fixes.csv'], 'the manifest names the inputs of reduce-points, and fixes.csv is given too'],
    [['-o', 'points.csv'], '--output is of one run, and a manifest is of many'],
    [['--session', 'day.toml'], '--session is given, and the manifest has a column session'],
    [['--index', '1', '--count'], '--index and --count ask for different things'],
  ])('is refused beside %j', async (words, said) => {
    manifest([HEADER, row(1)]);
    const run = await reduce(...words);
    expect(run.exit).toBe(2);
    expect(run.stderr).toContain(said);
  });

  it('is asked for where only its options are given', async () => {
    const run = await runInProcess(['reduce-points', 'fixes.csv', '--index', '1'], { cwd: folder });
    expect(run.exit).toBe(2);
    expect(run.stderr).toContain('give --manifest FILE');
  });
});

describe('other commands', () => {
  it('carry points over and check them by a manifest in the same way', async () => {
    manifest([HEADER, row(1)]);
    expect((await reduce()).exit).toBe(0);
    writeFileSync(
      at('carry.csv'),
      'points,output,record,to\nday-1/points.csv,day-1/carried.csv,day-1/carried.json,EPSG:4326\n',
    );
    const words = ['transform', '--manifest', 'carry.csv', '--from', 'EPSG:4148', '--operation', 'EPSG:1505'];
    const carried = await runInProcess(words, { cwd: at('') });
    expect(carried.exit, carried.stderr).toBe(0);
    expect((await runInProcess(words, { cwd: at('') })).stderr).toContain('done before');
    writeFileSync(
      at('check.csv'),
      'points,session,control,output,record\nday-1/points.csv,day-1/session.toml,day-1/points.csv,day-1/checks.csv,day-1/checks.json\n',
    );
    const check = ['check-tolerances', '--manifest', 'check.csv', '--limit-horizontal', '0.05'];
    const checked = await runInProcess(check, { cwd: at('') });
    expect(checked.exit, checked.stderr).toBeLessThanOrEqual(1);
    expect((await runInProcess(check, { cwd: at('') })).stderr).toContain('done before');
  });

  it('still ask for their input where no manifest is given', async () => {
    const run = await runInProcess(['transform'], { cwd: folder });
    expect(run.exit).toBe(2);
    expect(run.stderr).toContain("missing required argument 'points'");
  });
});
