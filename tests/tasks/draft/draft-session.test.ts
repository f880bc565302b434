import { describe, expect, it } from 'vitest';
import type { Fix } from '../../../src/records/points/fix.js';
import type { Draft, DraftValue, WorkBox } from '../../../src/tasks/draft/draft-line.js';
import { draftOfLog } from '../../../src/tasks/draft/draft-log.js';
import { draftOfTable } from '../../../src/tasks/draft/draft-session.js';
import { systemLines } from '../../../src/tasks/draft/draft-system.js';
import type { SystemCandidates } from '../../../src/tasks/draft/draft-system.js';
import { draftText } from '../../../src/tasks/draft/draft-text.js';
import { makeFix } from '../../core/observation/make-fix.js';

type Column = readonly [string, ...(readonly string[])];
const NOTHING: SystemCandidates = { systems: [], more: 0, strip: null };
const WORDS = new Map([
  ['fixed', 'fixed'],
  ['rtk fixed', 'fixed'],
]);

function drafted(columns: readonly Column[], answers: readonly (readonly [string, DraftValue])[] = []): Draft {
  const rows = (columns[0]?.slice(1) ?? []).map((_, row) => columns.map((column) => column[row + 1] ?? ''));
  return draftOfTable(
    { dialect: null, encoding: null, header: columns.map(([header]) => header), unitsRow: null, rows },
    { candidates: () => NOTHING, solutionWords: WORDS, axes: null, answers: new Map(answers) },
  );
}
const settings = ({ lines }: Draft): Readonly<Record<string, DraftValue>> =>
  Object.fromEntries(lines.map(({ path, value }) => [path.join('.'), value]));
const whyOf = ({ lines }: Draft, key: string): string =>
  lines
    .filter(({ path }) => path.join('.') === key)
    .flatMap(({ why }) => why)
    .join(' | ');
const DAY = Math.floor(Date.UTC(2026, 2, 4) / 86_400_000);

describe('the set-ups of bases', () => {
  const BASES: readonly Column[] = [
    ['Base', 'B1', '', 'B1'],
    ['Time', '2026-03-04 08:00:30', '2026-03-04 08:00:31', '2026-03-04 08:10:00'],
    ['Lat', '47', '47', '47'],
    ['Lon', '15', '15', '15'],
  ];
  const times = (...answers: readonly (readonly [string, DraftValue])[]): readonly (DraftValue | undefined)[] => {
    const found = settings(drafted(BASES, answers));
    return [found[`base.B1#${String(DAY)}.from_utc`], found[`base.B1#${String(DAY)}.to_utc`]];
  };

  it('are timed in the zone that is answered', () => {
    expect(times(['columns.epoch_utc.zone', '+02:00'])).toEqual(['2026-03-04T06:00:00Z', '2026-03-04T06:11:00Z']);
    expect(times(['columns.epoch_utc.zone', '-03:30'])).toEqual(['2026-03-04T11:30:00Z', '2026-03-04T11:41:00Z']);
    expect(times(['columns.epoch_utc.zone', 'Z'])).toEqual(['2026-03-04T08:00:00Z', '2026-03-04T08:11:00Z']);
    // GPS time was 18 s ahead.
    expect(times(['columns.epoch_utc.scale', 'gps'], ['columns.epoch_utc.leap_seconds', 18])).toEqual([
      '2026-03-04T08:00:00Z',
      '2026-03-04T08:10:00Z',
    ]);
  });

  it('have no times until the zone is known', () => {
    const named = (answers: readonly (readonly [string, DraftValue])[]): readonly string[] =>
      Object.keys(settings(drafted(BASES, answers))).filter((key) => key.startsWith('base.'));
    for (const answers of [[], [['columns.epoch_utc.zone', 'local']], [['columns.epoch_utc.scale', 'gps']]] as const)
      expect(named(answers)).toEqual(['base.B1#.id', 'base.B1#.broadcast']);
    expect(whyOf(drafted(BASES), 'base.B1#.id')).toBe('"Base" names it in 2 rows');
  });

  it('are those of rows whose time can be read', () => {
    const odd: readonly Column[] = [
      ['Base', 'B1', 'B2'],
      ['Time', '2026-03-04T08:00:30Z', ''],
    ];
    const keys = Object.keys(settings(drafted(odd)));
    expect(keys).toContain(`base.B1#${String(DAY)}.from_utc`);
    expect(keys).toContain('base.B2#.id');
    expect(keys).not.toContain('base.B2#.from_utc');
  });
});

describe('columns that are not the position', () => {
  it('are taken as they stand where they bear our name, and need no line', () => {
    const found = settings(
      drafted([
        ['point_id', 'A'],
        ['pdop', '1.5'],
        ['Code', 'GATE'],
      ]),
    );
    expect(found).not.toHaveProperty('columns.point_id');
    expect(found).not.toHaveProperty('columns.pdop');
    expect(found).toMatchObject({ 'columns.code': 'Code', 'table.solution': '?' });
  });

  it('are named where nothing was guessed of them, and the question for the point says so', () => {
    expect(whyOf(drafted([['Quaver', 'x']]), 'columns.point_id')).toBe(
      'which column names the point? Not guessed are: Quaver',
    );
    expect(whyOf(drafted([['pdop', '1.5']]), 'columns.point_id')).toBe(
      'which column names the point? Not guessed are: none',
    );
  });

  it('ask for the words of a solution that are not known, however those are written that are', () => {
    expect(settings(drafted([['Fix type', 'RTK_Fixed', 'rtk-fixed', 'FIXED']]))).toMatchObject({
      'columns.solution': 'Fix type',
    });
    expect(settings(drafted([['Fix type', 'RTK_Fixed', 'Wobbly']]))).toMatchObject({
      'columns.solution': { header: 'Fix type', words: { Wobbly: '?' } },
    });
  });

  it('leave a figure for both axes out beside one of an axis', () => {
    const means = 'columns.sigma_horizontal_m';
    expect(settings(drafted([['HRMS', '0.01']]))).toMatchObject({ [means]: { header: 'HRMS', means: '?' } });
    expect(settings(drafted([['HRMS', '0.01']], [[`${means}.means`, 'drms']]))).toMatchObject({
      [means]: { header: 'HRMS', means: 'drms' },
    });
    expect(settings(drafted([['HRMS [mm]', '10']]))).toMatchObject({
      [means]: { header: 'HRMS [mm]', unit: 'mm', means: '?' },
    });
    for (const own of ['Sigma E', 'Sigma N'])
      expect(
        settings(
          drafted([
            ['HRMS', '0.01'],
            [own, '0.01'],
          ]),
        ),
      ).not.toHaveProperty(means);
  });

  it('make a time of a week with its seconds, of a moment, or of date and time of day, and of neither half', () => {
    const epoch = (...columns: readonly Column[]): DraftValue | undefined =>
      settings(drafted(columns))['columns.epoch_utc'];
    expect(epoch(['GPS week', '2408'], ['GPS seconds', '295200.0'])).toMatchObject({ form: 'gps-week-seconds' });
    expect(epoch(['GPS week', '2408'])).toBeUndefined();
    expect(epoch(['Date', '2026-03-04'], ['Clock', '10:00:00'])).toMatchObject({ header: ['Date', 'Clock'] });
    expect(epoch(['Date', '2026-03-04'])).toBeUndefined();
  });
});

describe('the system', () => {
  const grid = (box: WorkBox | null, found: SystemCandidates | null = null): string =>
    systemLines({ kind: 'geographic', box, height: 'ellipsoidal' }, found)
      .filter(({ path }) => path[1] === 'grid')
      .flatMap(({ why }) => why)
      .join(' | ');
  const between = (southDeg: number, northDeg: number): string => grid({ southDeg, northDeg, westDeg: 1, eastDeg: 2 });

  it('is asked with the side of the equator that the work lies on', () => {
    expect(between(0.5, 1)).toContain('latitude 0.500 to 1.000, longitude 1.000 to 2.000, north of the equator');
    expect(between(0, 1)).toContain('north of the equator');
    expect(between(-1, -0.5)).toContain('south of the equator');
    expect(between(-1, 0)).toContain('south of the equator');
    expect(between(-0.5, 0.5)).toContain('on both sides of the equator');
    expect(grid(null)).toContain('pegbook find-system WORDS');
  });

  it('is asked with the systems that could be meant, and how many more there are', () => {
    const box = { southDeg: 1, northDeg: 2, westDeg: 3, eastDeg: 4 };
    const one = { code: 'EPSG:1', name: 'Grid of nowhere', area: 'Nowhere' };
    expect(grid(box, NOTHING)).toContain('no published system has an area of use that holds them all');
    const text = grid(box, { systems: [one], more: 0, strip: null });
    expect(text).toContain('smallest area first: |   EPSG:1 Grid of nowhere (Nowhere)');
    expect(text).not.toContain('more:');
    expect(text).not.toContain('strip of six degrees');
    expect(grid(box, { systems: [one], more: 1, strip: one })).toContain('and 1 more: pegbook find-system');
  });
});

describe('a log', () => {
  const at = (latitudeDeg: number, longitudeDeg: number, own: Partial<Fix> = {}): Fix =>
    makeFix({ geodetic: { latitudeDeg, longitudeDeg, ellipsoidalHeightM: 1 }, solution: 'fixed', ...own });
  const log = (fixes: readonly Fix[]): Draft =>
    draftOfLog(fixes, { candidates: () => NOTHING, answers: new Map<string, DraftValue>() });

  it('says where the work lies, on both sides of the equator and of Greenwich', () => {
    expect(log([]).box).toBeNull();
    expect(log([at(-31.5, -21.5)]).box).toEqual({ southDeg: -31.5, northDeg: -31.5, westDeg: -21.5, eastDeg: -21.5 });
    expect(log([at(1, 2), at(-3, 4), at(5, -6)]).box).toEqual({ southDeg: -3, northDeg: 5, westDeg: -6, eastDeg: 4 });
  });

  it('counts its solutions, and asks nothing of columns', () => {
    const found = log([at(1, 2), at(1, 2, { solution: 'float' }), at(1, 2), at(1, 2, { solution: null })]);
    expect(whyOf(found, 'acceptance.solution')).toBe('solutions that are used; the log has fixed 2, float 1, none 1');
    expect(settings(found)).toMatchObject({ 'rover.reference_point': 'apc', 'acceptance.solution': ['fixed'] });
    expect(Object.keys(settings(found)).some((key) => key.startsWith('columns'))).toBe(false);
  });
});

describe('the text of a draft', () => {
  const text = (lines: Draft['lines']): string => draftText({ lines, box: null }, ['a.csv']).text;
  const offered = { why: [], isOffered: true };

  it('has a list of bases as a comment where every line of one is offered, each for itself', () => {
    const made = text([
      { path: ['base', 'B1#1', 'id'], value: 'B1', why: [] },
      { path: ['base', '', 'id'], value: 'B2', ...offered },
      { path: ['height', 'geoid'], value: 'egm96', ...offered },
    ]);
    expect(made).toContain('\n[[base]]\nid = "B1"\n');
    expect(made).toContain('\n# [[base]]\n# id = "B2"\n');
    expect(made).toContain('\n[height]\n# geoid = "egm96"\n');
  });

  it('leaves a pattern to fill in as it is, and quotes what only looks like one', () => {
    expect(text([{ path: ['base', '', 'broadcast'], value: '{ at = … }', ...offered }])).toContain(
      'broadcast = { at = … }',
    );
    expect(text([{ path: ['columns', 'note'], value: '{ note', why: [] }])).toContain('note = "{ note"');
    expect(text([{ path: ['columns', 'note'], value: 'and so on…', why: [] }])).toContain('note = "and so on…"');
  });

  it('numbers the lines that ask', () => {
    const made = draftText(
      {
        lines: [
          { path: ['system', 'grid'], value: '?', why: ['which?'] },
          { path: ['acceptance', 'max_pdop'], value: '?', ...offered },
          { path: ['columns', 'pole_length_m'], value: { header: 'Pole', unit: '?' }, why: [] },
        ],
        box: null,
      },
      ['a.csv'],
    );
    const lines = made.text.split('\n');
    expect(made.asked.map(({ key }) => key)).toEqual(['system.grid', 'columns.pole_length_m']);
    expect(made.asked.map(({ line }) => lines[line - 1])).toEqual([
      'grid = "?"',
      'pole_length_m = { header = "Pole", unit = "?" }',
    ]);
  });
});
