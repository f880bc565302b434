import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { keysOfSources } from '../../support/explanation/cited-keys.js';
import { readExplanation } from '../../support/explanation/read-explanation.js';
import type { ReadStep } from '../../support/explanation/read-explanation.js';
import { printedAs } from '../../support/explanation/printed-as.js';
import { ROOT } from '../../support/repository-files.js';
import { openTerminal } from '../../support/run-command-line.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-explained-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Steps that hold words and counts, and no arithmetic. */
const WITHOUT_ARITHMETIC =
  /^(?:Accept or refuse each epoch|Verdict|One accepted row|Did the antenna stand still, and had the solution settled\?)$/u;

async function explained(line: string): Promise<{ text: string; steps: readonly ReadStep[]; stderr: string }> {
  const { stdout, stderr } = await openTerminal(folder).run(line);
  const text = stdout.toString('utf8');
  return { text, steps: readExplanation(text), stderr };
}

const QUILLBACK = ['fixes.csv', 'session.toml'].map((name) => join(ROOT, 'examples', 'quillback-pan', name));
const ofDay = (point: string): string =>
  `pegbook reduce-points ${QUILLBACK[0] ?? ''} --session ${QUILLBACK[1] ?? ''} --explain ${point}`;

/** One row a point, in a system of its own. */
function oneRow(system: string, latitude: string, longitude: string): string {
  const name = system.replaceAll(/\W/gu, '');
  writeFileSync(
    join(folder, `${name}.csv`),
    `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,reference_point\nP,${latitude},${longitude},123.4567,fixed,tip\n`,
  );
  return `pegbook reduce-points ${name}.csv --system ${system} --fixes-system ${FRAMES[system] ?? ''} --explain P`;
}
const FRAMES: Readonly<Record<string, string>> = {
  'EPSG:2049': 'EPSG:4148',
  'EPSG:28355': 'EPSG:4283',
  'EPSG:27700': 'EPSG:4277',
  'EPSG:32633': 'EPSG:4326',
  'EPSG:26729': 'EPSG:4267',
};

describe('a printed explanation, computed again from its own numbers in decimal arithmetic', () => {
  // The formulas are those of the sources that each step names; the arithmetic is tests/support/explanation.
  it.each([
    ['a leaning pole, sixty epochs, two occupations', ofDay('QP-04')],
    ['ninety epochs', ofDay('QP-12@1')],
    ['a point of the second base', ofDay('QP-15')],
    ['a zone of the universal grid in the south', oneRow('EPSG:28355', '-37.9510334167', '144.4248678889')],
    ['one in the north', oneRow('EPSG:32633', '67.25', '13.0625')],
    ['an origin off the equator, on another ellipsoid', oneRow('EPSG:27700', '52.6575703', '1.7179216')],
    ['a grid in feet', oneRow('EPSG:26729', '32.1234567', '-86.7654321')],
  ])('comes out to the last printed digit: %s', async (name, line) => {
    const { steps, text } = await explained(line);
    await expect(text).toMatchFileSnapshot(printedAs(name));
    expect(steps.flatMap(({ title, wrong }) => wrong.map((what) => `${title}: ${what}`))).toEqual([]);
    const arithmetic = steps.filter(({ computed }) => computed.length > 0);
    expect(
      steps
        .filter(({ computed, title }) => computed.length === 0 && !WITHOUT_ARITHMETIC.test(title))
        .map(({ title }) => title),
    ).toEqual([]);
    expect(arithmetic.length, text).toBeGreaterThanOrEqual(5);
    expect(steps.reduce((count, { repeated }) => count + repeated, 0)).toBeGreaterThan(5);
  });

  it('notices one wrong digit anywhere: of an input, a coefficient or a result', async () => {
    const { text } = await explained(ofDay('QP-04@1'));
    const fails = (from: string, to: string): number => {
      expect(text).toContain(from);
      return readExplanation(text.replace(from, to)).flatMap(({ wrong }) => wrong).length;
    };
    expect(fails('= 0.000837731820624', '= 0.000837731820634')).toBeGreaterThan(0);
    expect(fails('5 / 16·n³', '5 / 17·n³')).toBeGreaterThan(0);
    expect(fails('λ₀ = 21°', 'λ₀ = 21.0000001°')).toBeGreaterThan(0);
    expect(fails('westing_m = −E = -40689.9969', 'westing_m = −E = -40689.9968')).toBeGreaterThan(0);
    expect(fails('0.7570  1.0000  0.4467', '0.7570  1.0000  0.4497')).toBeGreaterThan(0);
    expect(fails('b = n / (n − 0.8)', 'b = n / (n − 0.7)')).toBeGreaterThan(0);
    expect(fails('p = 0.5 % / (3·n)', 'p = 0.6 % / (3·n)')).toBeGreaterThan(2);
    expect(fails('normal(1 − p / 2)', 'normal(1 − p)')).toBeGreaterThan(0);
    expect(fails('student(1 − p / 2, (n − 1) / 2)', 'student(1 − p / 2, n − 1)')).toBeGreaterThan(0);
  });

  it('prints the level of the test of a join, from which its limit comes out', async () => {
    const { text } = await explained(ofDay('QP-04'));
    const fails = (from: string, to: string): number => {
      expect(text).toContain(from);
      return readExplanation(text.replace(from, to)).flatMap(({ wrong }) => wrong).length;
    };
    expect(fails('limit 16.46 (level 1 − 0.99^(1 / 11) = 0.00091)', 'limit 16.46')).toBe(0);
    expect(fails('p = 1 − 0.99^(1 / 11)', 'p = 1 − 0.99^(1 / 12)')).toBe(2);
    expect(fails('chisquare(1 − p, 3)', 'chisquare(1 − p, 4)')).toBe(1);
    expect(fails('chisquare(1 − p, 3)', 'chisquare(1 − p, 2)')).toBe(1);
  });

  it('says what too few epochs leave untested', async () => {
    writeFileSync(
      join(folder, 'few.csv'),
      [
        'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,reference_point',
        'P,2026-03-04T06:00:00Z,-31.5,21.4,1000.000,fixed,tip',
        'P,2026-03-04T06:00:01Z,-31.50000001,21.4,1000.004,fixed,tip',
        'Q,2026-03-04T06:10:00Z,-31.51,21.4,1000.000,fixed,tip',
      ].join('\n'),
    );
    const two = await explained('pegbook reduce-points few.csv --system EPSG:2049 --explain P');
    expect(two.text).toContain('drift and step are not tested: they need 6 epochs over some time, and there are 2');
    expect(two.text).toContain('which cannot say which of them is wrong');
    expect(two.steps.flatMap(({ wrong }) => wrong)).toEqual([]);
    const one = await explained('pegbook reduce-points few.csv --system EPSG:2049 --explain Q');
    expect(one.text).toContain('not screened, and not tested for movement, drift or step');
    expect(one.steps.flatMap(({ wrong }) => wrong)).toEqual([]);
  });

  it.each([
    [
      'a shift about a base',
      '[[base]]\nid = "B1"\nbroadcast = { latitude_deg = -31.4, longitude_deg = 21.3, ellipsoidal_height_m = 1000, at = "arp", frame = "national" }\n',
    ],
    ['a shift without a base', ''],
    ['a model without a constant part', '[precision.horizontal]\nconstant_mm = 0\nppm = 2\n', 'fixes = "EPSG:4148"'],
  ])(
    'prints every number that its result needs: %s',
    async (name, more, frame = 'fixes = "EPSG:7912"\nshift = "moved.toml"') => {
      writeFileSync(
        join(folder, 'moved.toml'),
        [
          'name = "plate, invented"',
          'method = "time-dependent position vector"',
          'rotation_convention = "position-vector"',
          'from = "EPSG:7912"',
          'to = "EPSG:4148"',
          'rx_arcsec_per_year = -0.0001',
          'ry_arcsec_per_year = 0.0006',
          'rz_arcsec_per_year = -0.0007',
          'reference_epoch_year = 1994.0',
          'source = "docs/methods/plate-motion.md"',
        ].join('\n'),
      );
      const base =
        '[[base]]\nid = "B1"\nbroadcast = { latitude_deg = -31.4, longitude_deg = 21.3, ellipsoidal_height_m = 1000, at = "arp" }\n';
      writeFileSync(
        join(folder, 'moved-session.toml'),
        `version = 1\n[system]\ngrid = "EPSG:2049"\nepoch_year = 2026.2\n${frame}\n[rover]\nreference_point = "tip"\n${more}${more.includes('precision') ? base : ''}`,
      );
      const place = more === '' ? '' : 'B1';
      writeFileSync(
        join(folder, 'moved.csv'),
        `point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,base_id\n${[0, 1, 2].map((at) => `P,2026-03-04T06:00:0${String(at)}Z,-31.5${String(at)},21.4,1000.00${String(at)},fixed,${place}\n`.replace('-31.50', '-31.5').replace('-31.51', '-31.50000001').replace('-31.52', '-31.50000002')).join('')}`,
      );
      const { steps, text, stderr } = await explained(
        'pegbook reduce-points moved.csv --session moved-session.toml --explain P',
      );
      expect(text, stderr).not.toBe('');
      await expect(text).toMatchFileSnapshot(printedAs(name));
      expect(steps.flatMap(({ title, wrong }) => wrong.map((what) => `${title}: ${what}`))).toEqual([]);
      expect(
        steps
          .filter(({ computed, title }) => computed.length === 0 && !WITHOUT_ARITHMETIC.test(title))
          .map(({ title }) => title),
      ).toEqual([]);
    },
  );

  it.each([
    ['one epoch of a dozen', 12, 1],
    ['nearly half of them, in a block', 20, 9],
    ['one of more than are listed', 130, 1],
  ])('lists each epoch beside its own weight where some are screened out: %s', async (name, count, far) => {
    // The fourth epoch, and those after it, stand half a metre away; the others within some millimetres.
    const rows = Array.from({ length: count }, (_epoch, at) => {
      const scatter = 4e-8 * Math.sin(7 * at);
      const north = -31.5 + scatter + (at >= 3 && at < 3 + far ? 5e-6 : 0);
      const time = new Date(Date.UTC(2026, 2, 4, 6, 0, at)).toISOString().replace('.000', '');
      return `P,${time},${north.toFixed(10)},${(21.4 + 3e-8 * Math.cos(5 * at)).toFixed(10)},${(1000 + 0.004 * Math.sin(3 * at)).toFixed(4)},fixed,tip`;
    });
    writeFileSync(
      join(folder, 'far.csv'),
      ['point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,reference_point', ...rows, ''].join(
        '\n',
      ),
    );
    const { steps, text } = await explained('pegbook reduce-points far.csv --system EPSG:2049 --explain P');
    await expect(text).toMatchFileSnapshot(printedAs(name));
    expect(text).toContain(`${String(far)} screened out, ${String(count - far)} kept`);
    expect(steps.flatMap(({ title, wrong }) => wrong.map((what) => `${title}: ${what}`))).toEqual([]);
  });

  it('is all that --explain alone prints', async () => {
    const { stderr } = await explained(ofDay('QP-04@1'));
    expect(stderr).not.toMatch(/37 points|verdict:|to look at next/u);
  });

  it('cites keys that stand in docs/references.md, and pages that are there', async () => {
    const { steps } = await explained(ofDay('QP-04'));
    const { missing, count } = keysOfSources(steps.map(({ source }) => source));
    expect(missing).toEqual([]);
    expect(count).toBeGreaterThan(10);
  });
});
