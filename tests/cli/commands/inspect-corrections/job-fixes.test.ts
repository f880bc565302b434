import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../../support/run-in-process.js';

// --job names the fixes of its days, each read as its day says.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-job-fixes-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
cpSync('examples/quillback-pan-job', join(folder, 'mixed'), { recursive: true });
cpSync('examples/quillback-pan/geoid.csv', join(folder, 'quillback-pan/geoid.csv'));
cpSync('examples/quillback-pan-days', join(folder, 'days'), { recursive: true });
cpSync('examples/quillback-pan-link', join(folder, 'link'), { recursive: true });

const inspect = async (...args: readonly string[]): Promise<{ exit: number; stdout: string; stderr: string }> => {
  const { exit, stdout, stderr } = await runInProcess(['inspect-corrections', ...args], { cwd: folder });
  return { exit, stdout: stdout.toString(), stderr };
};

const rowsOf = (name: string): number =>
  readFileSync(join(folder, 'mixed', name), 'utf8')
    .trim()
    .split('\n').length - 1;

describe('the fixes of a job', () => {
  it('are all counted, of three days with tables of their own, and each stands in the record', async () => {
    const { stdout, exit } = await inspect('--job', 'mixed/job.toml', '--format', 'json', '--record', 'run.json');
    expect(exit).toBe(0);
    const sentences = readFileSync(join(folder, 'mixed/wednesday.nmea'), 'utf8').match(/^\$G[NP]GGA/gmu)?.length;
    const { link } = JSON.parse(stdout) as { link: { epochs: number; cost: { sigma: unknown } } };
    expect(link.epochs).toBe(rowsOf('monday.csv') + rowsOf('tuesday.csv') + Number(sentences));
    const record = JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8')) as { inputs: { name: string }[] };
    expect(record.inputs.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['monday.csv', 'tuesday.csv', 'wednesday.nmea', 'wednesday-occupations.csv']),
    );
  });

  it('are of the base that their day set up, where every day has one of the same name', async () => {
    const { stdout } = await inspect('--job', 'mixed/job.toml');
    expect(stdout).toMatch(/most at QP-32, where the sigma of an axis in plan goes from 6\.2 to 6\.4 mm/u);
  });

  it('give what the same files give by their names', async () => {
    const files = readdirSync(join(folder, 'days/days')).map((name) => `days/days/${name}`);
    const named = await inspect('--job', 'days/job.toml', '--fixes', ...files, '--format', 'json');
    const own = await inspect('--job', 'days/job.toml', '--format', 'json');
    expect(JSON.parse(own.stdout)).toEqual(JSON.parse(named.stdout));
  });

  it('are counted beside a stream, and those that are not there are left out and said', async () => {
    const with3 = await inspect('link/base.rtcm3', '--job', 'mixed/job.toml', '--format', 'json');
    expect((JSON.parse(with3.stdout) as { link: { epochs: number } }).link.epochs).toBeGreaterThan(
      rowsOf('monday.csv'),
    );
    rmSync(join(folder, 'mixed/tuesday.csv'));
    const without = await inspect('link/base.rtcm3', '--job', 'mixed/job.toml');
    expect(without.stderr).toContain('the fixes of day 2026-03-10 are not counted: tuesday.csv is not there');
    expect(without.stdout).toContain('the link, by the age of the corrections');
    const alone = await inspect('--job', 'mixed/job.toml');
    expect(alone.stderr).toContain('tuesday.csv: no such file');
    cpSync('examples/quillback-pan-job/tuesday.csv', join(folder, 'mixed/tuesday.csv'));
  });

  it('are refused where days have other limits, left out beside a stream, and are no outputs', async () => {
    const job = readFileSync(join(folder, 'mixed/job.toml'), 'utf8');
    const other = job.replace('[day.table]', '[day.acceptance]\nmax_correction_age_s = 3\n\n[day.table]');
    writeFileSync(join(folder, 'mixed/other.toml'), other);
    const said = /\[acceptance\] of day 2026-03-10 is not that of day 2026-03-09, and one link has one limit/u;
    const refused = await inspect('--job', 'mixed/other.toml');
    expect([refused.exit, refused.stderr]).toEqual([2, expect.stringMatching(said)]);
    const beside = await inspect('link/base.rtcm3', '--job', 'mixed/other.toml');
    expect(beside.stderr).toMatch(said);
    expect(beside.stdout).not.toContain('the link, by the age');
    const wanted = await inspect('link/base.rtcm3', '--job', 'mixed/other.toml', '--outages', 'o.csv');
    expect(wanted.exit).toBe(2);
    const over = await inspect('--job', 'mixed/job.toml', '-o', 'mixed/monday.csv', '--force');
    expect([over.exit, over.stderr]).toEqual([4, expect.stringContaining('monday.csv')]);
  });
});

describe('the bases of a job', () => {
  const session = readFileSync('examples/quillback-pan-link/session.toml', 'utf8').replace(
    /^(?:from|to)_utc.*\n/gmu,
    '',
  );
  const [head = '', base = ''] = session.split('[[base]]');
  const day = (date: string, more: string): string =>
    `[[day]]\nid = "${date}"\ndate = ${date}\nfixes = ["not-yet.csv"]\n[[day.base]]${more.split('[acceptance]')[0] ?? ''}\n`;
  const jobOf = (...dates: readonly string[]): void => {
    const wrong = base.replace('antenna_height_m = 1.600', 'antenna_height_m = 1.777');
    const days = dates.map((date) => day(date, date === '2026-03-04' ? base : wrong)).join('');
    const shared = head
      .replace('version = 1', '')
      .replace(/^\[/gmu, '[shared.')
      .replace(/^title.*$/mu, '');
    writeFileSync(join(folder, 'link/job.toml'), `version = 1\ntitle = "a job"\n${shared}\n${days}`);
  };

  it('of other days are not held against a stream of one, which is said', async () => {
    jobOf('2026-03-03', '2026-03-04', '2026-03-05');
    const { stdout, stderr } = await inspect('link/base.rtcm3', '--job', 'link/job.toml', '--format', 'json');
    expect(stderr).toContain('bases of day 2026-03-03 are not held: no stream is of its date');
    expect(stderr).toContain('bases of day 2026-03-05 are not held: no stream is of its date');
    const own = await inspect('link/base.rtcm3', '--session', 'link/session.toml', '--format', 'json');
    const checksOf = (text: string): unknown => (JSON.parse(text) as { broadcasts: unknown }).broadcasts;
    expect(checksOf(own.stdout)).toBeDefined();
    expect(checksOf(stdout)).toEqual(checksOf(own.stdout));
  });

  it('are for review where no stream is of any of their dates', async () => {
    jobOf('2026-03-03', '2026-03-05');
    const { exit, stderr } = await inspect('link/base.rtcm3', '--job', 'link/job.toml');
    expect([exit, stderr]).toEqual([0, expect.stringContaining('broadcast-not-sent')]);
    expect(stderr).toMatch(/2 bases of the session held against them: review$/mu);
    expect(stderr).not.toContain('broadcast-differs');
  });
});

describe('--select of inspect-corrections', () => {
  it.each([
    [['link/base.rtcm3', '--fixes', 'nosuch.csv']],
    [['--fixes', 'nosuch.csv']],
    [['link/base.rtcm3', '--format', 'geojson', '--fixes', 'nosuch.csv']],
  ])('is refused before fixes are read: %s', async (args) => {
    const { exit, stderr } = await inspect(...args, '--select', 'nosuch');
    expect([exit, stderr]).toEqual([2, expect.stringContaining('the table has no column nosuch')]);
  });
});
