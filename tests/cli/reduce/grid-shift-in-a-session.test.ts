import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { runInProcess } from '../../support/run-in-process.js';
import { seededRandom } from '../../support/seeded-random.js';
import { geoidMetadata, tiffBytes } from '../../support/tiff-bytes.js';

// Fixes in Hartebeesthoek94, a grid on Cape, a grid of shifts between them and a geoid of either: each is read at its own place.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-grid-shift-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const PLACE = { width: 4, height: 4, tiePoint: [0, 0, 0, 19.5, -29, 0], pixelScale: [1, 1, 0] };
const CAPE = '+a=6378249.145 +rf=293.4663077';
const nodes = (seed: number, from: number, to: number): readonly number[] => {
  const random = seededRandom(seed);
  return Array.from({ length: 16 }, () => Math.fround(random.between(from, to)));
};

function gridFile(name: string, frame: number, samples: readonly (readonly number[])[], metadata: string): string {
  const image = { ...PLACE, samples, geoKeys: { 1024: 2, 1025: 2, 2048: frame }, metadata };
  writeFileSync(join(folder, name), tiffBytes([image]));
  return name;
}

const shifts = (): string => {
  const item = (index: number, name: string): string =>
    `<Item name="DESCRIPTION" sample="${String(index)}">${name}</Item>`;
  const metadata = `<GDALMetadata><Item name="TYPE">HORIZONTAL_OFFSET</Item><Item name="target_crs_epsg_code">4148</Item>${item(0, 'latitude_offset')}${item(1, 'longitude_offset')}</GDALMetadata>`;
  return gridFile('shifts.tif', 4222, [nodes(1, -3, -1), nodes(2, -3, -1)], metadata);
};
// Steeper than any: a metre in a kilometre.
const geoid = (frame: number): string =>
  gridFile(`geoid-${String(frame)}.tif`, frame, [nodes(3, 0, 90)], geoidMetadata());

const session = (shift: string, more: string): string => `version = 1
[system]
grid = "EPSG:22281"
fixes = "EPSG:4148"
shift = "${shift}"
[rover]
reference_point = "tip"
pole_length_m = 0
${more}`;

type Place = readonly [longitudeDeg: number, latitudeDeg: number, heightM: number];
const PLACES: readonly Place[] = Array.from({ length: 40 }, (_, i) => {
  const random = seededRandom(100 + i);
  return [random.between(20.1, 21.9), random.between(-31.9, -29.1), random.between(-50, 2500)];
});

function fixesOf(places: readonly Place[]): string {
  const rows = places.map(
    ([lon, lat, h], i) =>
      `P${String(i)},2026-03-04T07:00:${String(i % 60).padStart(2, '0')}Z,${String(lat)},${String(lon)},${String(h)},fixed`,
  );
  return `point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution\n${rows.join('\n')}\n`;
}

interface Point {
  readonly westing_m: number;
  readonly southing_m: number;
  readonly orthometric_height_m: number | null;
  readonly ellipsoidal_height_m: number;
}

async function reduced(name: string, text: string, places: readonly Place[]) {
  writeFileSync(join(folder, 'fixes.csv'), fixesOf(places));
  writeFileSync(join(folder, name), text);
  const run = await runInProcess(
    ['reduce-points', 'fixes.csv', '--session', name, '--format', 'json', '--record', `${name}.json`, '--force'],
    { cwd: folder },
  );
  return {
    ...run,
    points: (): readonly Point[] => (JSON.parse(run.stdout.toString('utf8')) as { points: Point[] }).points,
  };
}

const cct = (steps: string, places: readonly Place[]): readonly Place[] => {
  const words = `+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad ${steps}`.split(' ');
  const text = places.map((place) => place.map((value) => value.toFixed(13)).join(' ')).join('\n');
  return runProgram('cct', ['-d', '9', ...words], `${text}\n`).map((line) => {
    const [a = Number.NaN, b = Number.NaN, c = Number.NaN] = numbersOf(line.replace(/\s+(?:inf|HUGE_VAL)\s*$/u, ''));
    return [a, b, c];
  });
};
/** Of the four decimals written, and the single precision that PROJ keeps shifts in. */
const HALF_A_DIGIT = 6e-5;
const LO21 = `+step +proj=tmerc +lat_0=0 +lon_0=21 +k=1 +x_0=0 +y_0=0 +axis=wsu ${CAPE}`;

describe.skipIf(!hasProgram('cct'))('a grid of shifts in a session, against cct (skipped where it is absent)', () => {
  for (const [at, frame] of [
    ['fixes', 4148],
    ['grid', 4222],
  ] as const)
    it(`reads a geoid of the frame of the ${at} at the place in it, to half a digit`, async () => {
      const [shift, heights] = [shifts(), geoid(frame)];
      const run = await reduced(
        `${at}.toml`,
        session(shift, `[height]\ngeoid = "${heights}"\nsigma_m = 0.01\n`),
        PLACES,
      );
      const down = `+step +inv +proj=vgridshift +grids=${join(folder, heights)} +multiplier=1`;
      const across = `+step +inv +proj=hgridshift +grids=${join(folder, shift)}`;
      const theirs = cct(`${at === 'fixes' ? `${down} ${across}` : `${across} ${down}`} ${LO21}`, PLACES);
      const other = cct(`${at === 'grid' ? `${down} ${across}` : `${across} ${down}`} ${LO21}`, PLACES);
      const points = run.points();
      expect(points).toHaveLength(40);
      let elsewhere = 0;
      for (const [i, point] of points.entries()) {
        const [west, south, height] = theirs[i]!;
        expect(Math.abs(point.westing_m - west)).toBeLessThan(HALF_A_DIGIT);
        expect(Math.abs(point.southing_m - south)).toBeLessThan(HALF_A_DIGIT);
        expect(Math.abs(point.orthometric_height_m! - height)).toBeLessThan(HALF_A_DIGIT);
        expect(Math.abs(point.ellipsoidal_height_m - PLACES[i]![2])).toBeLessThan(HALF_A_DIGIT);
        elsewhere = Math.max(elsewhere, Math.abs(height - other[i]![2]));
      }
      // What the other place would have given.
      expect(elsewhere).toBeGreaterThan(0.01);
      expect(run.stderr).toContain('ellipsoidal heights stay those of the fixes (SHA-256 ');
      const record = JSON.parse(readFileSync(join(folder, `${at}.toml.json`), 'utf8')) as {
        grids: { role: string; test?: string }[];
      };
      expect(record.grids.find(({ role }) => role === 'shift')?.test).toContain('Δφ');
    });

  it('takes a base to the frame of the fixes and back: it returns to its known coordinate, and carries its points with it', async () => {
    const shift = shifts();
    const known: Place = [21.2, -30.4, 1041.9];
    const [[west, south]] = cct(LO21, [known]) as [Place];
    const [inFixes] = cct(
      `+step +proj=hgridshift +grids=${join(folder, shift)} +step +proj=unitconvert +xy_in=rad +xy_out=deg`,
      [known],
    ) as [Place];
    // It said it stood elsewhere: in the numbers of the national frame, and a metre too high.
    const base = `[[base]]
id = "B1"
broadcast = { latitude_deg = ${String(known[1])}, longitude_deg = ${String(known[0])}, ellipsoidal_height_m = 1042.9, at = "arp" }
known = { westing_m = ${west.toFixed(6)}, southing_m = ${south.toFixed(6)}, ellipsoidal_height_m = 1041.9, at = "arp" }
sigma_horizontal_m = 0.01
sigma_vertical_m = 0.01
`;
    const rover: Place = [21.25, -30.45, 1100];
    const run = await reduced('base.toml', session(shift, base), [[known[0], known[1], 1042.9], rover]);
    const [atBase, atRover] = run.points();
    expect(Math.abs(atBase!.westing_m - west)).toBeLessThan(HALF_A_DIGIT);
    expect(Math.abs(atBase!.southing_m - south)).toBeLessThan(HALF_A_DIGIT);
    expect(Math.abs(atBase!.ellipsoidal_height_m - 1041.9)).toBeLessThan(HALF_A_DIGIT);
    // The rover moved in space by what its base moved by, in the frame of the fixes, then back by the grid at its own place.
    const space = (place: Place): Place => cct('+step +proj=cart +ellps=WGS84', [place])[0]!;
    const [from, to, at] = [space([known[0], known[1], 1042.9]), space(inFixes), space(rover)];
    const moved = at.map((value, i) => value + to[i]! - from[i]!) as unknown as Place;
    const text = `${moved.map((value) => value.toFixed(9)).join(' ')}\n`;
    const steps = `+proj=pipeline +step +inv +proj=cart +ellps=WGS84 +step +inv +proj=hgridshift +grids=${join(folder, shift)} ${LO21}`;
    const [line = ''] = runProgram('cct', ['-d', '9', ...steps.split(' ')], text);
    const [w = Number.NaN, s = Number.NaN, h = Number.NaN] = numbersOf(line.replace(/\s+(?:inf|HUGE_VAL)\s*$/u, ''));
    expect(Math.abs(atRover!.westing_m - w)).toBeLessThan(HALF_A_DIGIT);
    expect(Math.abs(atRover!.southing_m - s)).toBeLessThan(HALF_A_DIGIT);
    expect(Math.abs(atRover!.ellipsoidal_height_m - h)).toBeLessThan(HALF_A_DIGIT);
  });

  it.each([
    ['latitude-longitude-height', 'shifts with heights'],
    ['translations-of-the-target', 'geocentric translations'],
  ])('gives what transform gives by %s', async (name) => {
    const file = join(process.cwd(), 'tests/fixtures/shift-grids', `${name}.tif`);
    const places = PLACES.slice(0, 10);
    const run = await reduced('kinds.toml', session(file, ''), places);
    const one = await runInProcess(
      ['transform', 'fixes.csv', '--from', 'EPSG:4148', '--to', 'EPSG:22281', '--shift', file, '--format', 'json'],
      { cwd: folder },
    );
    const others = (JSON.parse(one.stdout.toString('utf8')) as { points: Point[] }).points;
    for (const [i, point] of run.points().entries()) {
      expect(Math.abs(point.westing_m - others[i]!.westing_m)).toBeLessThan(1.1e-4);
      expect(Math.abs(point.southing_m - others[i]!.southing_m)).toBeLessThan(1.1e-4);
      expect(Math.abs(point.ellipsoidal_height_m - others[i]!.ellipsoidal_height_m)).toBeLessThan(1.1e-4);
      expect(Math.abs(point.ellipsoidal_height_m - places[i]![2])).toBeGreaterThan(10);
    }
  });
});

describe('a grid of shifts in a session', () => {
  it('refuses a point outside with its line, and a grid of heights alone', async () => {
    const outside = await reduced('outside.toml', session(shifts(), ''), [[21, -35, 100]]);
    expect(outside.stderr).toContain('outside the grid of shifts shifts.tif');
    expect(outside.stderr).toContain('"where":{"source":"fixes.csv","line":2}');
    expect(outside.exit).toBe(3);
    const heights = join(process.cwd(), 'tests/fixtures/shift-grids/offsets-between-heights.tif');
    const vertical = await reduced('vertical.toml', session(heights, ''), [[21, -31, 100]]);
    expect(vertical.stderr).toContain('is no shift between frames in space');
  });

  it('keeps heights by an operation that has none, as transform does', async () => {
    const text = `version = 1
[system]
grid = "EPSG:27700"
fixes = "EPSG:4326"
shift = "EPSG:1314"
[height]
geoid = "egm96"
[rover]
reference_point = "tip"
pole_length_m = 0
`;
    const place: Place = [-1.5, 52.5, 150];
    const run = await reduced('kept.toml', text, [place]);
    const one = await runInProcess(
      [
        'transform',
        'fixes.csv',
        '--from',
        'EPSG:4326',
        '--to',
        'EPSG:27700',
        '--operation',
        'EPSG:1314',
        '--geoid',
        'egm96',
        '--from-height',
        'ellipsoidal',
        '--to-height',
        'orthometric',
        '--format',
        'json',
      ],
      { cwd: folder },
    );
    const [theirs] = (
      JSON.parse(one.stdout.toString('utf8')) as {
        points: { easting_m: number; northing_m: number; orthometric_height_m: number }[];
      }
    ).points;
    const [ours] = run.points() as unknown as { easting_m: number; northing_m: number; orthometric_height_m: number }[];
    expect(Math.abs(ours!.easting_m - theirs!.easting_m)).toBeLessThan(1e-4);
    expect(Math.abs(ours!.northing_m - theirs!.northing_m)).toBeLessThan(1e-4);
    expect(Math.abs(ours!.orthometric_height_m - theirs!.orthometric_height_m)).toBeLessThan(1e-3);
  });
});

describe('the built-in geoid beside a datum of triangulation', () => {
  // 28.4 m wrong before: its heights were taken to be above the ellipsoid of Cape.
  it('is read over the ellipsoid of the satellites: H = h − N of the fixes', async () => {
    const run = await reduced('egm.toml', session('EPSG:1504', '[height]\ngeoid = "egm96"\n'), [[21.4, -31.5, 1043.2]]);
    const alone = await reduced(
      'alone.toml',
      `version = 1\n[system]\ngrid = "EPSG:2049"\n[height]\ngeoid = "egm96"\n[rover]\nreference_point = "tip"\npole_length_m = 0\n`,
      [[21.4, -31.5, 1043.2]],
    );
    expect(run.points()[0]!.orthometric_height_m).toBeCloseTo(alone.points()[0]!.orthometric_height_m!, 3);
  });
});
