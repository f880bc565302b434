import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gridOf, projectionArguments } from '../../core/grid/systems.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { runInProcess } from '../../support/run-in-process.js';
import { fixesOf, miniSurveys, sessionOf, SYSTEMS } from './mini-surveys.js';
import type { MiniSurvey, Place } from './mini-surveys.js';

// Small surveys all over the Earth: the whole way from a fix to a grid coordinate against a chain that shares nothing
// with ours. CartConvert and GeodSolve (GeographicLib) do the ellipsoid, cct (PROJ) the projection, and the vectors
// between them are written out here.
const COUNT = 231;
const PROGRAMS = ['cct', 'CartConvert', 'GeodSolve'];
const absent = PROGRAMS.filter((name) => !hasProgram(name));
const DEG = Math.PI / 180;
/** What 0.1 mm leaves for us beside the rounding of four decimals, half of it. */
const LIMIT_M = 1e-4;

type Vector = readonly [number, number, number];
const sum = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const scaled = (a: Vector, by: number): Vector => [a[0] * by, a[1] * by, a[2] * by];

/** One rover's whole answer: grid pair in the system's own unit, degrees, height, and the line from its base. */
interface Answer {
  readonly pair: readonly [number, number];
  readonly metresPerUnit: number;
  readonly latitude: number;
  readonly longitude: number;
  readonly height: number;
  readonly baseline: number;
}

interface Found {
  readonly survey: MiniSurvey;
  readonly expected: readonly Answer[];
  readonly rows: readonly Readonly<Record<string, string>>[];
}

function ellipsoidOf(system: string): readonly string[] {
  const { semiMajorAxisM, flattening } = gridOf(system).base.ellipsoid;
  return ['-e', String(semiMajorAxisM), String(flattening)];
}

/** Places of one ellipsoid to geocentric metres, or back. */
function cartConvert(
  ellipsoid: readonly string[],
  isBack: boolean,
  lines: readonly (Place | Vector)[],
): readonly Vector[] {
  const found = runProgram(
    'CartConvert',
    [...(isBack ? ['-r'] : []), ...ellipsoid, '-p', '7'],
    lines.map((line) => `${line.join(' ')}\n`).join(''),
  );
  return found.map((line) => numbersOf(line) as unknown as Vector);
}

/** From the tip up to the antenna, geocentric; north and up are those of the place as it was logged, as for any azimuth read there. */
function leverArm([latitude, longitude]: Place, length: number, tilt: number, azimuth: number): Vector {
  const [phi, lambda] = [Number(latitude) * DEG, Number(longitude) * DEG];
  const east: Vector = [-Math.sin(lambda), Math.cos(lambda), 0];
  const north: Vector = [-Math.sin(phi) * Math.cos(lambda), -Math.sin(phi) * Math.sin(lambda), Math.cos(phi)];
  const up: Vector = [Math.cos(phi) * Math.cos(lambda), Math.cos(phi) * Math.sin(lambda), Math.sin(phi)];
  const [aside, above] = [length * Math.sin(tilt * DEG), length * Math.cos(tilt * DEG)];
  return sum(
    sum(scaled(east, aside * Math.sin(azimuth * DEG)), scaled(north, aside * Math.cos(azimuth * DEG))),
    scaled(up, above),
  );
}

/** Every survey of one system through the other programs, a few calls for all of them. */
function chain(system: string, surveys: readonly MiniSurvey[]): readonly (readonly Answer[])[] {
  const ellipsoid = ellipsoidOf(system);
  const fixes = surveys.flatMap(({ rovers }) => rovers.map(({ fix }) => fix));
  const bases = surveys.flatMap(({ sent, known, baseAntennaM }) => [
    sent,
    [known[0], known[1], String(Number(known[2]) + baseAntennaM)] as const,
  ]);
  const geocentric = cartConvert(ellipsoid, false, [...fixes, ...bases]);
  const moved = surveys.flatMap(({ rovers }, index) => {
    const [sent, known] = [geocentric[fixes.length + 2 * index], geocentric[fixes.length + 2 * index + 1]];
    if (sent === undefined || known === undefined) throw new Error('a base is missing');
    return rovers.map((_, rover) =>
      sum(geocentric[index * rovers.length + rover] ?? [NaN, NaN, NaN], sum(known, scaled(sent, -1))),
    );
  });
  const poles = surveys.flatMap(({ rovers, phaseCentreM, azimuthIs }) =>
    rovers.map((rover) => ({
      ...rover,
      length: Number(rover.poleM) + Number(phaseCentreM),
      turn: azimuthIs === 'top-from-tip' ? 0 : 180,
    })),
  );
  const tips = cartConvert(
    ellipsoid,
    true,
    poles.map(({ fix, length, tiltDeg, azimuthDeg, turn }, at) =>
      sum(moved[at] ?? [NaN, NaN, NaN], scaled(leverArm(fix, length, Number(tiltDeg), Number(azimuthDeg) + turn), -1)),
    ),
  );
  const { definition, axes } = gridOf(system);
  const proj4 = definition.proj4 ?? '';
  const pairs = runProgram(
    'cct',
    ['-z', '0', '-t', '0', '-d', '9', ...projectionArguments(proj4)],
    tips.map(([latitude, longitude]) => `${String(longitude)} ${String(latitude)}\n`).join(''),
  ).map(numbersOf);
  const from = surveys.flatMap(({ known, rovers }) => rovers.map(() => known));
  const lines = runProgram(
    'GeodSolve',
    ['-i', ...ellipsoid, '-p', '9'],
    tips
      .map(
        ([latitude, longitude], at) =>
          `${from[at]?.[0] ?? ''} ${from[at]?.[1] ?? ''} ${String(latitude)} ${String(longitude)}\n`,
      )
      .join(''),
  ).map(numbersOf);
  const answers = tips.map(([latitude, longitude, height], at) => {
    const [a = NaN, b = NaN] = pairs[at] ?? [];
    const pair = proj4.includes('+axis=swu') ? ([b, a] as const) : ([a, b] as const);
    return { pair, metresPerUnit: axes[0].metresPerUnit, latitude, longitude, height, baseline: lines[at]?.[2] ?? NaN };
  });
  return surveys.map(({ rovers }, index) => answers.slice(index * rovers.length, (index + 1) * rovers.length));
}

let folder = '';
const found: Found[] = [];

beforeAll(async () => {
  if (absent.length > 0) return;
  folder = mkdtempSync(join(tmpdir(), 'pegbook-world-'));
  const surveys = miniSurveys(COUNT, 20261128);
  for (const [system] of SYSTEMS) {
    const own = surveys.filter((survey) => survey.system === system);
    const expected = chain(system, own);
    for (const [index, survey] of own.entries()) {
      writeFileSync(join(folder, 'session.toml'), sessionOf(survey));
      writeFileSync(join(folder, 'fixes.csv'), fixesOf(survey));
      const { stdout, stderr, exit } = await runInProcess(['reduce-points', 'fixes.csv', '-s', 'session.toml', '-q'], {
        cwd: folder,
      });
      const [head = [], ...rows] = stdout
        .toString('utf8')
        .trimEnd()
        .split('\n')
        .map((line) => line.split(','));
      if (exit !== 0 || rows.length !== survey.rovers.length)
        throw new Error(`${sessionOf(survey)}\n${fixesOf(survey)}\n${stderr}`);
      found.push({
        survey,
        expected: expected[index] ?? [],
        rows: rows.map((row) => Object.fromEntries(head.map((name, column) => [name, row[column] ?? '']))),
      });
    }
  }
}, 300_000);
afterAll(() => {
  if (folder !== '') rmSync(folder, { recursive: true, force: true });
});

/** The largest of a difference over every point of these surveys, metres, with where it is. */
function largest(
  of: readonly Found[],
  difference: (answer: Answer, row: Readonly<Record<string, string>>) => number,
): { readonly metres: number; readonly where: string } {
  let worst = { metres: 0, where: '' };
  for (const { survey, expected, rows } of of) {
    expected.forEach((answer, index) => {
      const row = rows[index] ?? {};
      const metres = difference(answer, row);
      if (!(metres <= worst.metres))
        worst = { metres, where: `${survey.system} ${JSON.stringify(answer)} ${JSON.stringify(row)}` };
    });
  }
  return worst;
}

describe.skipIf(absent.length > 0)(
  `points of ${String(COUNT)} surveys all over the Earth agree with PROJ and GeographicLib (skipped where ${PROGRAMS.join(', ')} are not installed)`,
  () => {
    it.each(SYSTEMS.map(([code]) => code))(
      '%s: grid pair, height and baseline within 0.1 mm, degrees within their last digit',
      (code) => {
        const own = found.filter(({ survey }) => survey.system === code);
        expect(own.length).toBeGreaterThanOrEqual(Math.floor(COUNT / SYSTEMS.length));
        const [first = '', second = ''] = gridOf(code).axes.map(({ columnName }) => columnName);
        const checks = [
          largest(own, ({ pair, metresPerUnit }, row) => Math.abs(Number(row[first]) - pair[0]) * metresPerUnit),
          largest(own, ({ pair, metresPerUnit }, row) => Math.abs(Number(row[second]) - pair[1]) * metresPerUnit),
          largest(own, ({ height }, row) => Math.abs(Number(row['ellipsoidal_height_m']) - height)),
          largest(own, ({ baseline }, row) => Math.abs(Number(row['baseline_m']) - baseline)),
          largest(own, ({ latitude }, row) => Math.abs(Number(row['latitude_deg']) - latitude) * 111_320),
          largest(
            own,
            ({ latitude, longitude }, row) =>
              Math.abs(((Number(row['longitude_deg']) - longitude + 540) % 360) - 180) *
              111_320 *
              Math.cos(latitude * DEG),
          ),
        ];
        for (const { metres, where } of checks) expect(metres, where).toBeLessThan(LIMIT_M);
      },
    );

    it('lie in every hemisphere, at both poles and on both sides of the 180th meridian, with baselines to 60 km', () => {
      const all = found.flatMap(({ expected }) => expected);
      for (const [north, east] of [
        [1, 1],
        [1, -1],
        [-1, 1],
        [-1, -1],
      ] as const)
        expect(
          all.filter(({ latitude, longitude }) => latitude * north > 0 && longitude * east > 0).length,
        ).toBeGreaterThan(50);
      for (const pole of [90, -90]) expect(all.some(({ latitude }) => Math.abs(latitude - pole) < 1e-4)).toBe(true);
      expect(
        found.filter(
          ({ expected }) =>
            expected.some(({ longitude }) => longitude > 179) && expected.some(({ longitude }) => longitude < -179),
        ).length,
      ).toBeGreaterThan(3);
      expect(Math.max(...all.map(({ baseline }) => baseline))).toBeGreaterThan(55_000);
    });
  },
);
