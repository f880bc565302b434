import { describe, expect, it } from 'vitest';
import { applyAnswers, dottedKey } from '../../../src/tasks/draft/apply-answers.js';
import type { DraftLine, DraftValue } from '../../../src/tasks/draft/draft-line.js';

const line = (path: readonly string[], value: DraftValue): DraftLine => ({ path, value, why: ['guessed'] });
const LINES: readonly DraftLine[] = [
  line(['system', 'grid'], '?'),
  line(['base', 'B1#20516', 'id'], 'B1'),
  line(['base', 'B1#20516', 'broadcast'], '?'),
  line(['base', 'B1#20517', 'id'], 'B1'),
  line(['base', 'B1#20517', 'broadcast'], '?'),
  line(['base', 'N.2#20516', 'id'], 'N.2'),
  line(['base', 'N.2#20516', 'broadcast'], '?'),
  line(['acceptance', 'solution'], ['fixed']),
  line(['columns', 'point_id'], 'Name'),
  line(['columns', 'pole_length_m'], { header: 'Pole', unit: '?' }),
  line(['columns', 'solution'], { header: 'Fix', words: { 'R.T.K': '?', none: '?' } }),
];
const settings = (lines: readonly DraftLine[]): unknown =>
  Object.fromEntries(lines.map(({ path, value }) => [path.join('.'), value]));
const BEFORE = settings(LINES) as Readonly<Record<string, DraftValue>>;

/** The settings after these answers. */
function answered(...answers: readonly (readonly [string, DraftValue])[]): unknown {
  const made = applyAnswers({ lines: LINES, box: null }, new Map(answers));
  if (!made.ok) throw new Error(made.problems.map(({ message }) => message).join());
  return settings(made.value.lines);
}
function refused(key: string): { readonly message: string; readonly hint: string | undefined } {
  const made = applyAnswers({ lines: LINES, box: null }, new Map<string, DraftValue>([[key, 'x']]));
  if (made.ok) throw new Error(`${key} was taken`);
  const [problem] = made.problems;
  expect(problem?.code).toBe('usage-invalid');
  return { message: problem?.message ?? '', hint: problem?.hint };
}

describe('an answer', () => {
  it('is named by section and key, of a base by its id, which may hold a point or a number sign', () => {
    expect(LINES.map(dottedKey)).toEqual([
      'system.grid',
      'base.B1.id',
      'base.B1.broadcast',
      'base.B1.id',
      'base.B1.broadcast',
      'base.N.2.id',
      'base.N.2.broadcast',
      'acceptance.solution',
      'columns.point_id',
      'columns.pole_length_m',
      'columns.solution',
    ]);
    expect(dottedKey(line(['base', 'A#1#20516', 'id'], 'A#1'))).toBe('base.A#1.id');
    expect(dottedKey(line(['base', '', 'id'], 'B1'))).toBe('base..id');
  });

  it.each<readonly [string, DraftValue, Readonly<Record<string, DraftValue>>]>([
    ['system.grid', 'EPSG:2049', { 'system.grid': 'EPSG:2049' }],
    // Of a list the whole.
    ['acceptance.solution', ['fixed', 'float'], { 'acceptance.solution': ['fixed', 'float'] }],
    ['acceptance.solution', 'fixed', { 'acceptance.solution': 'fixed' }],
    // One text of a column that has a header and more is the header; a table is the whole.
    ['columns.pole_length_m', 'Stab', { 'columns.pole_length_m': { header: 'Stab', unit: '?' } }],
    ['columns.pole_length_m', { header: 'Stab' }, { 'columns.pole_length_m': { header: 'Stab' } }],
    ['columns.pole_length_m.unit', 'ft', { 'columns.pole_length_m': { header: 'Pole', unit: 'ft' } }],
    ['columns.point_id', 'Point', { 'columns.point_id': 'Point' }],
    ['columns.point_id.header', 'Point', { 'columns.point_id': { header: 'Point' } }],
    // More that is said of a column keeps its header.
    ['columns.point_id.words', { a: 'b' }, { 'columns.point_id': { header: 'Name', words: { a: 'b' } } }],
    [
      'columns.solution.words.none',
      'float',
      { 'columns.solution': { header: 'Fix', words: { 'R.T.K': '?', none: 'float' } } },
    ],
    [
      'columns.solution.words.R.T.K',
      'fixed',
      { 'columns.solution': { header: 'Fix', words: { 'R.T.K': 'fixed', none: '?' } } },
    ],
    // Of a base, to each of its set-ups; a member of what was one question makes a table.
    ['base.B1.broadcast', 'b', { 'base.B1#20516.broadcast': 'b', 'base.B1#20517.broadcast': 'b' }],
    ['base.N.2.broadcast', 'b', { 'base.N.2#20516.broadcast': 'b' }],
    ['base.N.2.broadcast.at', 'arp', { 'base.N.2#20516.broadcast': { at: 'arp' } }],
    // What the draft did not have.
    ['system.epoch', 2020, { 'system.epoch': 2020 }],
    ['title', 'A day', { '.title': 'A day' }],
    ['columns.note', 'Remark', { 'columns.note': 'Remark' }],
    ['columns.note.header', 'Remark', { 'columns.note': { header: 'Remark' } }],
    ['columns.sigma_up_m.unit', 'mm', { 'columns.sigma_up_m': { header: 'sigma_up_m', unit: 'mm' } }],
    ['base.B1.known', 'k', { 'base.B1#20516.known': 'k', 'base.B1#20517.known': 'k' }],
    ['base.N.2.known', 'k', { 'base.N.2#20516.known': 'k' }],
  ])('%s = %j changes that and nothing else', (key, value, changed) => {
    expect(answered([key, value])).toEqual({ ...BEFORE, ...changed });
  });

  it.each<readonly [string, readonly string[]]>([
    ['system.grid', ['system.grid']],
    ['base.B1', ['base.B1#20516.id', 'base.B1#20516.broadcast', 'base.B1#20517.id', 'base.B1#20517.broadcast']],
    ['base.B1.broadcast', ['base.B1#20516.broadcast', 'base.B1#20517.broadcast']],
    ['columns', ['columns.point_id', 'columns.pole_length_m', 'columns.solution']],
    ['rover.pole_length_m', []],
  ])('none to %s takes away %j', (key, gone) => {
    expect(answered([key, 'none'])).toEqual(
      Object.fromEntries(Object.entries(BEFORE).filter(([name]) => !gone.includes(name))),
    );
  });

  it('says so beside the line, and makes an offered line count', () => {
    const offered: DraftLine = { ...line(['height', 'geoid'], 'egm96'), isOffered: true };
    const made = applyAnswers({ lines: [offered], box: null }, new Map([['height.geoid', 'grid.gtx']]));
    expect(made).toMatchObject({
      ok: true,
      value: {
        lines: [{ path: ['height', 'geoid'], value: 'grid.gtx', why: ['guessed', 'answered with the command'] }],
      },
    });
    expect(made.ok && made.value.lines[0]?.isOffered).not.toBe(true);
  });
});

describe('an answer that nothing would read is refused', () => {
  it('of a base that the draft does not have', () => {
    expect(refused('base.B9.broadcast')).toEqual({
      message: '--answer base.B9.broadcast: the draft has no such base',
      hint: 'the files name B1, N.2: base.B1… or base.N.2…',
    });
    expect(refused('base.B9').message).toContain('no such base');
    const none = applyAnswers({ lines: [], box: null }, new Map([['base.B1.broadcast', 'x']]));
    expect(!none.ok && none.problems[0]?.hint).toBe('the files name no base');
  });

  it('of a column what no column has', () => {
    expect(refused('columns.solution.R.T.K')).toEqual({
      message: '--answer columns.solution.R.T.K: a column has no R',
      hint: 'words of the file stand below words: columns.solution.words.R.T.K; else header, unit, words, form, zone, scale, leap_seconds, means',
    });
    // Elsewhere a key of three parts is a member of a table.
    expect(answered(['tolerance.rule.name', 'x'])).toMatchObject({ 'tolerance.rule.name': 'x' });
  });
});
