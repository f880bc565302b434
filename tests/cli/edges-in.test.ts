import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';

// Inputs that once gave a wrong number, or lost one, without a word.
const SESSION = (base: string): string => `version = 1
[system]
grid = "EPSG:2049"
[rover]
reference_point = "arp"
pole_length_m = 2.0
${base}`;
const BASE = (extra = ''): string => `[[base]]
id = "B1"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
sigma_horizontal_m = 0.01
sigma_vertical_m = 0.02
${extra}
`;
const HEAD = 'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution';
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-edges-'));
  writeFileSync(join(folder, 's.toml'), SESSION(BASE()));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function reduce(text: string, options: readonly string[] = [], session = 's.toml'): Promise<RunResult> {
  writeFileSync(join(folder, 'f.csv'), text);
  return runInProcess(['reduce-points', 'f.csv', '--session', session, ...options], { cwd: folder });
}

/** The rows of CSV output by column; cells here hold no commas. */
function pointsOf({ stdout }: RunResult): readonly Readonly<Record<string, string>>[] {
  const [head = [], ...rows] = stdout
    .toString()
    .trimEnd()
    .split('\n')
    .map((line) => line.split(','));
  return rows.map((cells) => Object.fromEntries(head.map((name, index) => [name, cells[index] ?? ''])));
}

const row = (second: number | null, more = '', id = 'A'): string =>
  `${id},${second === null ? '' : `2026-03-04T07:00:${String(second).padStart(2, '0')}Z`},-31.51,21.41,1050,fixed${more}`;

describe('rows and occupations', () => {
  it('refuses a row without a time among rows with one, either way round', async () => {
    const run = await reduce([HEAD, row(0), row(1), row(null), row(3), row(null), row(5)].join('\n'));
    expect(run.exit).toBe(3);
    expect(run.stderr.match(/\[time-missing\]/gu)).toHaveLength(2);
    expect((await reduce([HEAD, row(null), row(1)].join('\n'))).stderr).toContain('the row before it has none');
  });
  it('says once that rows have no time at all', async () => {
    const run = await reduce([HEAD, row(null), row(null), row(null)].join('\n'));
    expect(run.exit).toBe(0);
    expect(run.stderr.match(/\[time-missing\]/gu)).toHaveLength(1);
    expect(pointsOf(run)).toHaveLength(3);
  });
  it('counts an epoch that stands twice once, and refuses one with other values', async () => {
    const same = await reduce([HEAD, row(0), row(1), row(1), row(2)].join('\n'));
    expect(same.stderr).toContain('[epoch-repeated]');
    expect(pointsOf(same)[0]?.['epochs_used']).toBe('3');
    const other = await reduce([HEAD, row(0), row(1), row(1).replace('1050', '1060')].join('\n'));
    expect(other.exit).toBe(3);
    expect(other.stderr).toContain('stands twice with other values');
  });
  it('refuses one file under two names', async () => {
    const text = [HEAD, row(0), row(1)].join('\n');
    writeFileSync(join(folder, 'g.csv'), text);
    const run = await reduce(text, []);
    expect(run.exit).toBe(0);
    const twice = await runInProcess(['reduce-points', 'f.csv', 'g.csv', '--session', 's.toml', '-o', 'out.csv'], {
      cwd: folder,
    });
    expect(twice.exit).toBe(3);
    expect(twice.stderr).toContain('g.csv has the same bytes as f.csv [input-repeated]');
  });
  it('keeps every code of a stand, every different cell up to five, and the note', async () => {
    const run = await reduce(
      [`${HEAD},code,crew,note`, row(0, ',PEG,x,by the gate'), row(1, ',PEG,x,'), row(2, ',FENCE,y,')].join('\n'),
    );
    expect(pointsOf(run)[0]).toMatchObject({ code: 'PEG; FENCE', crew: 'x; y', note: 'by the gate' });
    const many = await reduce(
      [`${HEAD},crew`, ...Array.from({ length: 9 }, (_, i) => row(i, `,c${String(i)}`))].join('\n'),
    );
    expect(pointsOf(many)[0]).toMatchObject({ crew: 'c0 (and 8 others)' });
    const mapped = await reduce([`${HEAD},Remark`, row(0, ',kept')].join('\n'), ['-c', 'note=Remark']);
    expect(pointsOf(mapped)[0]).toMatchObject({ note: 'kept' });
  });
});

describe('sessions and mappings', () => {
  it('refuses a base known kilometres from its broadcast, unless it is meant', async () => {
    writeFileSync(
      join(folder, 'far.toml'),
      SESSION(
        BASE('known = { latitude_deg = -31.55, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }'),
      ),
    );
    const run = await reduce([HEAD, row(0)].join('\n'), [], 'far.toml');
    expect(run.exit).toBe(2);
    expect(run.stderr).toMatch(/is known 5\.54\d km from what it broadcast \[base-shift-large\]/u);
    const meant = await reduce([HEAD, row(0)].join('\n'), ['--accept-base-shift'], 'far.toml');
    expect(meant.exit).toBe(0);
    expect(Number(pointsOf(meant)[0]?.['latitude_deg'])).toBeCloseTo(-31.56, 3);
  });
  it('warns once where an open base serves two days, or stands beside bases with windows', async () => {
    const days = await reduce([HEAD, row(0), row(0, '', 'B').replace('03-04', '03-06')].join('\n'));
    expect(days.stderr.match(/\[base-window-open\]/gu)).toHaveLength(1);
    expect((await reduce([HEAD, row(0), row(1)].join('\n'))).stderr).not.toContain('base-window-open');
    writeFileSync(
      join(folder, 'two.toml'),
      SESSION(
        BASE() + BASE('from_utc = "2026-05-01T00:00:00Z"\nto_utc = "2026-05-02T00:00:00Z"').replace('"B1"', '"B2"'),
      ),
    );
    expect((await reduce([HEAD, row(0)].join('\n'), [], 'two.toml')).stderr).toContain(
      'other bases of the session have [base-window-open]',
    );
  });
  it('says of an open base what the whole says in one of its parts, and in threads', async () => {
    writeFileSync(
      join(folder, 'two.toml'),
      SESSION(
        BASE() + BASE('from_utc = "2026-05-01T00:00:00Z"\nto_utc = "2026-05-02T00:00:00Z"').replace('"B1"', '"B2"'),
      ),
    );
    const text = [
      HEAD,
      ...[4, 4, 4, 5, 6, 6, 7].map((day, index) =>
        row(index, '', String.fromCodePoint(65 + index)).replace('03-04', `03-0${day}`),
      ),
    ].join('\n');
    const said = async (options: readonly string[], session: string): Promise<readonly string[]> =>
      (await reduce(text, options, session)).stderr.match(/^.*\[base-window-open\]$/gmu) ?? [];
    for (const [session, words] of [
      ['s.toml', 'the fixes span more than a day'],
      ['two.toml', 'other bases of the session have'],
    ] as const) {
      const whole = await said([], session);
      expect(whole).toEqual([expect.stringContaining(words)]);
      expect(await said(['--workers', '2'], session)).toEqual(whole);
      for (const cuts of [
        ['1:1', '2:4', '5:'],
        ['1:4', '5:6', '7:'],
        ['1:2', '3:3', '4:7'],
        ['1:6', '7:'],
      ]) {
        const parts: string[] = [];
        for (const cut of cuts) parts.push(...(await said(['--rows', cut], session)));
        expect(parts, `${session} ${cuts.join()}`).toEqual(whole);
      }
    }
  });
  it('says once of heights far from all others, naming feet where they explain it, and of a slope from the base beyond reason', async () => {
    // Ground of 737 to 745 m 5 km from a base at 741.2 m; the receiver gives heights of some rows, or of all, in feet.
    writeFileSync(join(folder, 'low.toml'), SESSION(BASE().replace('1043.2', '741.2')));
    const heights = [737.9, 741.2, 729.4, 744.8, 733.3, 738.1];
    const rows = (inFeet: (index: number) => boolean): string =>
      [
        HEAD,
        ...heights.map((height, index) =>
          row(index, '', `P${index}`)
            .replace('-31.51', (-31.505 - index / 5000).toFixed(4))
            .replace(',1050,', `,${(inFeet(index) ? height / 0.3048 : height).toFixed(3)},`),
        ),
      ].join('\n');
    const clean = await reduce(
      rows(() => false),
      [],
      'low.toml',
    );
    expect(clean.stderr).not.toMatch(/height-far-from-others|slope-from-base-steep/u);
    for (const workers of ['1', '2']) {
      const one = await reduce(
        rows((index) => index === 3),
        ['--workers', workers],
        'low.toml',
      );
      expect(one.exit).toBe(0);
      expect(one.stderr.match(/height-far-from-others/gu)).toHaveLength(1);
      expect(one.stderr).toContain(
        'P3 at 2441.6 m: far from the 6 others, which lie between 727.4 m and 741.2 m above the ellipsoid; taken for feet they lie among the others [height-far-from-others]',
      );
      expect(one.stderr).toMatch(/point P3: a slope of 1\d\d % from its base \[slope-from-base-steep\]/u);
    }
    const all = await reduce(
      rows(() => true),
      [],
      'low.toml',
    );
    expect(all.stderr).toContain(
      'base B1 at 741.2 m: far from the 6 others, which lie between 2391.0 m and 2441.6 m above the ellipsoid; they lie among the others if those are in feet [height-far-from-others]',
    );
  });
  it('refuses a header that the session gives to two columns, at its line', async () => {
    writeFileSync(
      join(folder, 'twice.toml'),
      `${SESSION(BASE())}[columns]\npoint_id = "Name"\ncode = "Kind"\nnote = "kind "\n`,
    );
    const run = await reduce([HEAD, row(0)].join('\n'), [], 'twice.toml');
    expect(run.exit).toBe(2);
    expect(run.stderr).toMatch(
      /^twice\.toml:\d+: columns\.note: code and note are both "kind " \[config-invalid-value\]$/mu,
    );
    const lines = SESSION(BASE()).split('\n').length;
    expect(run.stderr).toContain(`twice.toml:${lines + 3}:`);
  });
  it('refuses an option, a column and a header given twice', async () => {
    const text = [HEAD, row(0)].join('\n');
    for (const [words, said] of [
      [['--session', 's.toml'], 'given twice'],
      [['--system', 'EPSG:2049', '--system', 'EPSG:2051'], 'given twice'],
      [['-c', 'code=solution,code=point_id'], 'maps code twice'],
      [['-c', 'code=solution', '-c', 'note=solution'], 'are both mapped to "solution"'],
    ] as const) {
      const run = await reduce(text, words);
      expect(run.exit, words.join(' ')).toBe(2);
      expect(run.stderr).toContain(said);
    }
  });
});

describe('a header that says another unit or quantity', () => {
  const NAMES = ['ellipsoidal_height', 'Ellipsoidal Height', 'ellipsoidalHeight'];
  const UNITS = ['ft', 'feet', 'usft', 'US ft', '(ft)', 'mm', 'cm', 'km', 'gon', 'grad', 'rad'];
  it.each(NAMES.flatMap((name) => UNITS.map((unit) => `${name} ${unit}`)))(
    '"%s" is neither proposed nor mapped to metres',
    async (header) => {
      const text = `${HEAD.replace('ellipsoidal_height_m', header)}\n${row(0)}`;
      const bare = await reduce(text);
      expect(bare.exit).toBe(3);
      expect(bare.stderr).not.toContain(`ellipsoidal_height_m=${header}`);
      const mapped = await reduce(text, ['-c', `ellipsoidal_height_m=${header}`]);
      expect(mapped.exit).toBe(3);
      expect(mapped.stderr).toContain('[csv-header-contradicts]');
    },
  );
  it.each([
    ['ellipsoidal_height_m', 'orthometric_height'],
    ['latitude_deg', 'Longitude'],
    ['latitude_deg', 'Lat (gon)'],
    ['longitude_deg', 'lon_rad'],
    ['sigma_up_m', 'sigma up mm'],
    ['correction_age_s', 'age_ms'],
  ])('%s is not mapped to "%s"', async (name, header) => {
    const others = `${HEAD},sigma_up_m,correction_age_s`.split(',').filter((column) => column !== name);
    const run = await reduce(`${others.join(',')},${header}\n${others.map(() => '1').join(',')},1`, [
      '-c',
      `${name}=${header}`,
    ]);
    expect(run.exit).toBe(3);
    expect(run.stderr).toContain('[csv-header-contradicts]');
  });
  it.each([
    ['ellipsoidal_height_m', 'H (m)'],
    ['ellipsoidal_height_m', 'EllHeight'],
    ['ellipsoidal_height_m', 'Height'],
    ['latitude_deg', 'Lat DMS'],
    ['longitude_deg', 'Long'],
    ['point_id', 'ft'],
  ])('%s is mapped to "%s"', async (name, header) => {
    const run = await reduce(`${HEAD.replace(name, header)}\n${row(0)}`, ['-c', `${name}=${header}`]);
    expect(run.exit, run.stderr).toBe(0);
  });
});

describe('angles and times as they are written', () => {
  it('reads degrees, minutes and seconds with their mark in a field without quotes', async () => {
    const text = (latitude: string): string =>
      `${HEAD},crew\nA,2026-03-04 09:00:00+02:00,${latitude},"21 24 36",1050,fixed,"x; y"\nA,2026-03-04 09:00:01+02:00,${latitude},21.41,1050,fixed,"x; y"\n`;
    const plain = pointsOf(await reduce(text('-31.51')));
    expect(plain[0]?.['epochs_used']).toBe('2');
    expect(pointsOf(await reduce(text('31°30\'36.00000"S')))).toEqual(plain);
    expect(pointsOf(await reduce(text('"31°30\'36.00000""S"')))).toEqual(plain);
  });
});

describe('raw fixes in the place of points', () => {
  const quality = ',1.5,0.01,0.01,0.02,B1';
  const raw = [
    `${HEAD},pdop,sigma_east_m,sigma_north_m,sigma_up_m,base_id`,
    ...[0, 1, 2].map((at) => row(at, quality)),
  ].join('\n');
  const control = ['point_id,latitude_deg,longitude_deg,ellipsoidal_height_m', 'A,-31.51,21.41,1050'].join('\n');
  const files = (points: string): void => {
    writeFileSync(join(folder, 'p.csv'), points);
    writeFileSync(join(folder, 'c.csv'), control);
  };
  const told = async (words: readonly string[]): Promise<boolean> =>
    (await runInProcess([...words, '--session', 's.toml'], { cwd: folder })).stderr.includes('[points-look-raw]');
  const COMMANDS: readonly (readonly string[])[] = [
    ['check-tolerances', 'p.csv', '--control', 'c.csv'],
    ['adjust-network', 'p.csv', '--control', 'c.csv'],
    ['join-points', 'p.csv', '--consecutive'],
  ];

  it.each(COMMANDS)('is told by %s', async (...words) => {
    files(raw);
    expect(await told(words)).toBe(true);
  });
  it.each(COMMANDS)('is not told of reduced points by %s', async (...words) => {
    // An invented point, reduced by us: its rows carry times, solutions of their own and the pole as well.
    const reduced = await reduce(raw);
    files(reduced.stdout.toString());
    expect(await told(words)).toBe(false);
    files(
      ['point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m', row(0).replace(',fixed', '')].join('\n'),
    );
    expect(await told(words)).toBe(false);
  });
});
