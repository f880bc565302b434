import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { keysOfSources } from '../../../support/explanation/cited-keys.js';
import { readExplanation } from '../../../support/explanation/read-explanation.js';
import { printedAs } from '../../../support/explanation/printed-as.js';
import { ROOT } from '../../../support/repository-files.js';
import { openTerminal } from '../../../support/run-command-line.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-explained-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const example = (path: string): string => join(ROOT, 'examples', path);
const own = (name: string): string => example(`quillback-pan-network/${name}`);
const NETWORK = `pegbook adjust-network --vectors ${own('vectors.csv')} --control ${own('control.csv')}`;
const BLUNDERS = `pegbook adjust-network --vectors ${own('vectors-with-blunders.csv')} --control ${own('control-typed-wrongly.csv')}`;
const mixed = (name: string): string => join(ROOT, 'tests/cases/adjust-network/levelling-and-a-distance-join-in', name);
const MIXED = `pegbook adjust-network --vectors ${mixed('vectors.csv')} --control ${mixed('control.csv')} --levelled ${mixed('levelled.csv')} --distances ${mixed('distances.csv')} --system EPSG:2049 --geoid egm96`;

/** Control that holds the plan of one station, the height of another, and one without error. */
const [head, first = '', second = '', third = ''] = readFileSync(own('control.csv'), 'utf8').trimEnd().split('\n');
writeFileSync(
  join(folder, 'held.csv'),
  `${[head, first.replace(/weighted$/u, 'fixed'), second.replace(/weighted$/u, 'plan'), third.replace(/weighted$/u, 'height')].join('\n')}\n`,
);
const HELD = `pegbook adjust-network --vectors ${own('vectors.csv')} --control held.csv`;
/** The same vectors three times over, each off by millimetres: more than are shown one by one. */
const [names, ...vectors] = readFileSync(own('vectors.csv'), 'utf8').trimEnd().split('\n');
const thrice = vectors.flatMap((row, at) =>
  [0, 1, 2].map((turn) => {
    const cells = row.split(',');
    return cells
      .map((cell, column) =>
        column >= 2 && column <= 4
          ? (Number(cell) + (((7 * at + 5 * turn + 3 * column) % 11) - 5) / 2000).toFixed(4)
          : cell,
      )
      .join(',');
  }),
);
writeFileSync(join(folder, 'thrice.csv'), `${[names, ...thrice].join('\n')}\n`);
const THRICE = `pegbook adjust-network --vectors thrice.csv --control ${own('control.csv')}`;

describe('the explanation of a station of a network, computed again from its own numbers in decimal arithmetic', () => {
  // The formulas are those of AITKEN-1935 and BAARDA-1968; the arithmetic is tests/support/explanation.
  it.each([
    ['four vectors and their set-ups', `${NETWORK} --explain QN-4`, 200],
    ['a station that one vector reaches', `${NETWORK} --explain QN-7`, 50],
    ['control with its sigmas', `${NETWORK} --explain QN-1`, 200],
    ['held by one station', `${NETWORK} --datum minimal --explain QN-1`, 100],
    ['on the mean of the control', `${NETWORK} --datum inner --explain QN-4`, 200],
    ['what was left out', `${BLUNDERS} --exclude-outliers --explain QN-4`, 120],
    ['blunders that fail', `${BLUNDERS} --explain QN-4`, 200],
    ['the variance that the residuals show', `${BLUNDERS} --variance-factor estimated --explain QN-4`, 200],
    ['a height that is levelled', `${MIXED} --explain BM-1`, 20],
    ['vectors, levelling and a distance', `${MIXED} --explain QN-4`, 200],
    ['the other end of the distance', `${MIXED} --explain QN-6`, 150],
    ['control without error', `${HELD} --explain QN-1`, 100],
    ['control in plan', `${HELD} --explain QN-2`, 150],
    ['control in height', `${HELD} --explain QN-3`, 150],
    ['more than are shown one by one', `${THRICE} --explain QN-4`, 300],
    ['a scale that a base has', `${THRICE} --estimate scale --explain QN-6`, 200],
  ])('comes out to the last printed digit: %s', async (name, line, least) => {
    const { stdout, stderr } = await openTerminal(folder).run(line);
    const text = stdout.toString('utf8');
    await expect(text).toMatchFileSnapshot(printedAs(name));
    const steps = readExplanation(text);
    expect(
      steps.flatMap(({ title, wrong }) => wrong.map((what) => `${title}: ${what}`)),
      stderr,
    ).toEqual([]);
    expect(
      steps.reduce((sum, { computed }) => sum + computed.length, 0),
      text + stderr,
    ).toBeGreaterThanOrEqual(least);
    expect(keysOfSources(steps.map(({ source }) => source)).missing).toEqual([]);
    expect(stderr).not.toMatch(/^verdict|stations,/mu);
  });

  it('notices a wrong digit of a vector, of a covariance, of what is solved for and of a test', async () => {
    const { stdout } = await openTerminal(folder).run(`${NETWORK} --explain QN-4`);
    const text = stdout.toString('utf8');
    const fails = (from: string, to: string): number => {
      expect(text).toContain(from);
      return readExplanation(text.replace(from, to)).flatMap(({ wrong }) => wrong).length;
    };
    expect(fails('dX₁ = -2453.1367 m', 'dX₁ = -2453.1368 m')).toBeGreaterThan(0);
    expect(fails('CXX₁ = 40.369 mm²', 'CXX₁ = 40.370 mm²')).toBeGreaterThan(0);
    expect(fails('= -10.485 mm', '= -10.486 mm')).toBeGreaterThan(0);
    expect(fails('√SXX₁ = -1.35', '√SXX₁ = -1.36')).toBeGreaterThan(0);
    expect(fails('vX₁′ = -8.445198 mm', 'vX₁′ = -8.545198 mm')).toBeGreaterThan(0);
  });

  it('says of what only one vector reaches that nothing checks it', async () => {
    const { stdout } = await openTerminal(folder).run(`${NETWORK} --explain QN-7`);
    expect(stdout.toString('utf8')).toContain('nothing checks it: a blunder in it goes into the station whole');
  });
});
