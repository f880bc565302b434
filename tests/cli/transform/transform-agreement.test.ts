import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { OptionValue } from '../../../src/cli/command-spec.js';
import { loadTransform } from '../../../src/cli/transform/transform-setup-load.js';
import type { PlaceRow } from '../../../src/records/place-row.js';
import { createPointTransformer, emptyTransformedPoint } from '../../../src/tasks/transform-point.js';
import type { PointTransformer } from '../../../src/tasks/transform-point.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

// The pipeline of the command, from its options to its unrounded numbers, against PROJ's cct.
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-transform-'));
afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

type Triple = readonly [number, number, number];
/** How far apart two results are, metres. */
type Metric = (a: Triple, b: Triple) => number;

const METRES_PER_DEGREE = 111_320;
const degreesApart: Metric = (a, b) =>
  Math.max(Math.abs(a[0] - b[0]) * METRES_PER_DEGREE, Math.abs(a[1] - b[1]) * METRES_PER_DEGREE * Math.cos((a[0] * Math.PI) / 180), Math.abs(a[2] - b[2]));
const metresApart: Metric = (a, b) => Math.max(Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1]), Math.abs(a[2] - b[2]));

interface Case {
  readonly name: string;
  readonly options: Readonly<Record<string, OptionValue>>;
  /** The way back, where it is not the exchange of --from and --to. */
  readonly back?: Readonly<Record<string, OptionValue>>;
  readonly file?: string;
  readonly cct: readonly string[];
  /** Order of the columns of cct's input and output, as places in ours. */
  readonly swapIn?: boolean;
  readonly swapOut?: boolean;
  readonly box: readonly [Triple, Triple];
  readonly metric: Metric;
  readonly epoch?: number;
  /** The operation has no heights of its own: the height given stays. */
  readonly keepsHeight?: boolean;
}

const deg = (a: string): string => `+proj=unitconvert +xy_${a === 'in' ? 'in=deg +xy_out=rad' : 'in=rad +xy_out=deg'}`;
const geographic = (from: string, middle: string, to: string): readonly string[] =>
  `+proj=pipeline +step ${deg('in')} +step +proj=cart ${from} +step ${middle} +step +inv +proj=cart ${to} +step ${deg('out')}`.split(' ');
const WHOLE_EARTH: Case['box'] = [[-6.4e6, -6.4e6, -6.4e6], [6.4e6, 6.4e6, 6.4e6]];
const GEOCENT = { from: '+proj=geocent +ellps=GRS80 +no_defs', to: '+proj=geocent +ellps=GRS80 +no_defs' };
const SEVEN = 'tx_m = 446.448\nty_m = -125.157\ntz_m = 542.06\nrx_arcsec = 0.15\nry_arcsec = -1.247\nrz_arcsec = 0.842\nds_ppm = -20.489\n';
const seven = (convention: string): readonly string[] => `+proj=helmert +x=446.448 +y=-125.157 +z=542.06 +rx=0.15 +ry=-1.247 +rz=0.842 +s=-20.489 +convention=${convention}`.split(' ');
const PIVOT = 'pivot_x_m = 2464351.59\npivot_y_m = -5783466.61\npivot_z_m = 974809.81\n';
const RATES = 'tx_m_per_year = 0.02\nty_m_per_year = -0.01\ntz_m_per_year = 0.015\nrx_arcsec_per_year = 0.002\nry_arcsec_per_year = -0.001\nrz_arcsec_per_year = 0.0012\nds_ppm_per_year = 0.001\nreference_epoch_year = 1994\n';
const rates = '+dx=0.02 +dy=-0.01 +dz=0.015 +drx=0.002 +dry=-0.001 +drz=0.0012 +ds=0.001 +t_epoch=1994'.split(' ');
const THETA = (1.56504 / 3600) * (Math.PI / 180);
const [M, C, S] = [1.00000155, Math.cos(THETA), Math.sin(THETA)];

const CASES: readonly Case[] = [
  {
    name: 'geocentric translations, EPSG 9603, as operation 1504', options: { from: 'EPSG:4222', to: 'EPSG:4148', operation: 'EPSG:1504' },
    cct: geographic('+a=6378249.145 +rf=293.4663077', '+proj=helmert +x=-134.73 +y=-110.92 +z=-292.66', '+ellps=WGS84'), swapIn: true, swapOut: true,
    box: [[-34, 17, 0], [-23, 32, 2000]], metric: (a, b) => degreesApart([a[0], a[1], 0], [b[0], b[1], 0]), keepsHeight: true,
  },
  {
    name: 'position vector, EPSG 9606, as operation 1314', options: { from: 'EPSG:4277', to: 'EPSG:4326', operation: 'EPSG:1314' },
    cct: geographic('+ellps=airy', '+proj=helmert +x=446.448 +y=-125.157 +z=542.06 +rx=0.15 +ry=0.247 +rz=0.842 +s=-20.489 +convention=position_vector', '+ellps=WGS84'), swapIn: true, swapOut: true,
    box: [[50, -7, 0], [60, 1.5, 1000]], metric: (a, b) => degreesApart([a[0], a[1], 0], [b[0], b[1], 0]), keepsHeight: true,
  },
  {
    name: 'coordinate frame with heights, EPSG 1038, as operation 8048', options: { from: 'EPSG:4939', to: 'EPSG:7843', operation: 'EPSG:8048' },
    cct: geographic('+ellps=GRS80', '+proj=helmert +x=0.06155 +y=-0.01087 +z=-0.04019 +rx=-0.0394924 +ry=-0.0327221 +rz=-0.0328979 +s=-0.009994 +convention=coordinate_frame', '+ellps=GRS80'), swapIn: true, swapOut: true,
    box: [[-43, 114, -100], [-11, 153, 2200]], metric: degreesApart,
  },
  { name: 'position vector, EPSG 1033', options: GEOCENT, file: `method = "position vector transformation"\nrotation_convention = "position-vector"\n${SEVEN}`, cct: seven('position_vector'), box: WHOLE_EARTH, metric: metresApart },
  { name: 'coordinate frame, EPSG 1032', options: GEOCENT, file: `method = "coordinate frame rotation"\nrotation_convention = "coordinate-frame"\n${SEVEN}`, cct: seven('coordinate_frame'), box: WHOLE_EARTH, metric: metresApart },
  {
    name: 'coordinate frame with the full matrix above 2 seconds', options: GEOCENT,
    file: `method = "coordinate frame rotation"\nrotation_convention = "coordinate-frame"\n${SEVEN.replace('rx_arcsec = 0.15', 'rx_arcsec = 15')}`,
    cct: [...seven('coordinate_frame').map((part) => (part === '+rx=0.15' ? '+rx=15' : part)), '+exact'], box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'time-dependent position vector, EPSG 1053', options: { ...GEOCENT, epoch: 2026.3 }, epoch: 2026.3,
    file: `method = "EPSG:1053"\nrotation_convention = "position-vector"\n${SEVEN}${RATES}`, cct: [...seven('position_vector'), ...rates], box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'time-dependent coordinate frame, EPSG 1056', options: { ...GEOCENT, epoch: 2026.3 }, epoch: 2026.3,
    file: `method = "EPSG:1056"\nrotation_convention = "coordinate-frame"\n${SEVEN}${RATES}`, cct: [...seven('coordinate_frame'), ...rates], box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'Molodensky-Badekas, EPSG 1034', options: GEOCENT, file: `method = "EPSG:1034"\nrotation_convention = "coordinate-frame"\n${SEVEN}${PIVOT}`,
    cct: ['+proj=molobadekas', ...seven('coordinate_frame').slice(1), '+px=2464351.59', '+py=-5783466.61', '+pz=974809.81'], box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'Molodensky-Badekas, EPSG 1061', options: GEOCENT, file: `method = "EPSG:1061"\nrotation_convention = "position-vector"\n${SEVEN}${PIVOT}`,
    cct: ['+proj=molobadekas', ...seven('position_vector').slice(1), '+px=2464351.59', '+py=-5783466.61', '+pz=974809.81'], box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'two operations through a third frame', options: { from: 'EPSG:9988', to: 'EPSG:7842', operation: 'EPSG:9991,EPSG:8049', epoch: 2026.3 },
    back: { from: 'EPSG:7842', to: 'EPSG:9988', operation: 'EPSG:8049,EPSG:9991', epoch: 2026.3 }, epoch: 2026.3,
    cct: ('+proj=pipeline +step +inv +proj=helmert +x=0.0014 +y=0.0009 +z=-0.0014 +rx=0 +ry=0 +rz=0 +s=0.00042 +dx=0 +dy=0.0001 +dz=-0.0002 +drx=0 +dry=0 +drz=0 +ds=0 +t_epoch=2015 +convention=position_vector ' +
      '+step +proj=helmert +x=0 +y=0 +z=0 +rx=0 +ry=0 +rz=0 +s=0 +drx=0.00150379 +dry=0.00118346 +drz=0.00120716 +t_epoch=2020 +convention=coordinate_frame').split(' '),
    box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'motion of a plate, ITRF2014 Australian', options: { from: 'EPSG:7789', epochFrom: 2026.3, epochTo: 2020, plate: 'AUST' },
    back: { from: 'EPSG:7789', epochFrom: 2020, epochTo: 2026.3, plate: 'AUST' }, epoch: 2026.3,
    cct: '+proj=helmert +drx=-0.00151 +dry=-0.001182 +drz=-0.001215 +t_epoch=2020 +convention=position_vector'.split(' '), box: WHOLE_EARTH, metric: metresApart,
  },
  {
    name: 'similarity in the plane, EPSG 9621', options: { from: '+proj=utm +zone=31 +ellps=intl +no_defs', to: '+proj=utm +zone=31 +ellps=GRS80 +no_defs' },
    file: 'method = "similarity transformation"\nfirst_origin = -129.549\nsecond_origin = -208.185\nscale_factor = 1.00000155\nrotation_arcsec = 1.56504\n',
    cct: `+proj=affine +xoff=-129.549 +yoff=-208.185 +s11=${String(M * C)} +s12=${String(M * S)} +s21=${String(-M * S)} +s22=${String(M * C)}`.split(' '),
    box: [[200_000, 4_000_000, 0], [800_000, 6_000_000, 0]], metric: metresApart,
  },
  {
    name: 'affine in the plane, EPSG 9624', options: { from: '+proj=utm +zone=17 +ellps=clrk66 +no_defs', to: '+proj=utm +zone=18 +ellps=clrk66 +no_defs' },
    file: 'method = "affine parametric transformation"\na0 = 82357.457\na1 = 0.304794369\na2 = 0.000015417425\nb0 = 28091.324\nb1 = -0.000015417425\nb2 = 0.304794369\n',
    cct: '+proj=affine +xoff=82357.457 +yoff=28091.324 +s11=0.304794369 +s12=0.000015417425 +s21=-0.000015417425 +s22=0.304794369'.split(' '),
    box: [[200_000, 400_000, 0], [900_000, 700_000, 0]], metric: metresApart,
  },
  {
    name: 'zone to zone of one datum, south orientated', options: { from: 'EPSG:2049', to: 'EPSG:2050' },
    cct: '+proj=pipeline +step +inv +proj=tmerc +axis=wsu +lon_0=21 +ellps=WGS84 +step +proj=tmerc +axis=wsu +lon_0=23 +ellps=WGS84'.split(' '),
    box: [[-180_000, 2_800_000, 0], [20_000, 3_800_000, 0]], metric: metresApart,
  },
  {
    name: 'geographic 3D to geocentric, EPSG 9602', options: { from: 'EPSG:4979', to: 'EPSG:4978' }, cct: `+proj=pipeline +step ${deg('in')} +step +proj=cart +ellps=WGS84`.split(' '), swapIn: true,
    box: [[-89, -179, -1000], [89, 179, 9000]], metric: metresApart,
  },
];

function row(values: Triple, kind: string, index: number): PlaceRow {
  const geocentric = kind === 'geocentric';
  return { pointId: String(index), first: values[0], second: values[1], third: geocentric ? values[2] : 0, ellipsoidalHeightM: geocentric ? null : values[2], orthometricHeightM: null, passThrough: [], line: index, record: index };
}

async function transformer(options: Readonly<Record<string, OptionValue>>): Promise<{ readonly run: PointTransformer; readonly from: string; readonly to: string }> {
  const loaded = valueOf(await loadTransform({ args: [], options }, scratch, false));
  return { run: createPointTransformer(loaded.setup), from: loaded.from.kind, to: loaded.to.kind };
}

function apply({ run, from, to }: Awaited<ReturnType<typeof transformer>>, values: Triple): Triple {
  const out = emptyTransformedPoint();
  const problem = run(row(values, from, 1), out);
  if (problem !== null) throw new Error(problem.message);
  return [out.first, out.second, to === 'geocentric' ? out.third : (out.ellipsoidalHeightM ?? 0)];
}

function points(box: Case['box']): readonly Triple[] {
  const random = seededRandom(20_260_304);
  const [low, high] = box;
  const isWhole = box === WHOLE_EARTH;
  const draw = (): Triple => [random.between(low[0], high[0]), random.between(low[1], high[1]), random.between(low[2], high[2])];
  const found: Triple[] = [];
  while (found.length < 1000) {
    const point = draw();
    const radius = Math.hypot(...point);
    if (!isWhole || (radius > 5e6 && radius < 7e6)) found.push(point);
  }
  return found;
}

function runCct(c: Pick<Case, 'cct' | 'swapIn' | 'swapOut' | 'epoch'>, inputs: readonly Triple[], backwards: boolean): readonly Triple[] {
  const [swapIn, swapOut] = backwards ? [c.swapOut, c.swapIn] : [c.swapIn, c.swapOut];
  const order = ([a, b, z]: Triple, swap: boolean | undefined): Triple => (swap === true ? [b, a, z] : [a, b, z]);
  const text = inputs.map((point) => `${order(point, swapIn).map((value) => value.toFixed(13)).join(' ')}${c.epoch === undefined ? '' : ` ${String(c.epoch)}`}`).join('\n');
  return runProgram('cct', ['-d', '12', ...(backwards ? ['-I'] : []), ...c.cct], `${text}\n`).map((line) => {
    const [a = Number.NaN, b = Number.NaN, z = Number.NaN] = numbersOf(line.replace(/\s+(?:inf|HUGE_VAL)\s*$/u, ''));
    return order([a, b, z], swapOut);
  });
}

/** Options both ways; the shift file is written where there is one. */
function ways(c: Case, index: number): readonly [Readonly<Record<string, OptionValue>>, Readonly<Record<string, OptionValue>>] {
  const name = `shift-${String(index)}.toml`;
  if (c.file !== undefined) writeFileSync(join(scratch, name), c.file);
  const forward = c.file === undefined ? c.options : { ...c.options, shift: name };
  const exchanged = { ...forward, from: forward['to'] ?? forward['from'], to: forward['from'], ...(c.file !== undefined && { inverse: true }) };
  return [forward, c.back ?? exchanged];
}

describe.skipIf(!hasProgram('cct'))('transform agrees with cct to 0.01 mm on 1,000 points (skipped where cct is absent)', () => {
  CASES.forEach((c, index) => {
    const [forward, back] = ways(c, index);
    it(`${c.name}: forward`, async () => {
      const run = await transformer(forward);
      const inputs = points(c.box);
      const expected = runCct(c, inputs, false);
      expect(expected).toHaveLength(1000);
      const worst = Math.max(...inputs.map((point, at) => c.metric(apply(run, point), expected[at] ?? [Number.NaN, 0, 0])));
      expect(worst).toBeLessThanOrEqual(1e-5);
    });
    // Not against cct -I, which turns a small-angle matrix back by its transpose: 0.05 to 0.4 mm from the inverse.
    it(`${c.name}: what cct made of the points comes back to them`, async () => {
      const inputs = points(c.box);
      const targets = runCct(c, inputs, false);
      const run = await transformer(back);
      const worst = Math.max(...targets.map((point, at) => c.metric(apply(run, c.keepsHeight === true ? [point[0], point[1], inputs[at]?.[2] ?? 0] : point), inputs[at] ?? [Number.NaN, 0, 0])));
      expect(worst).toBeLessThanOrEqual(1e-5);
    });
  });
});

describe('transform there and back', () => {
  CASES.forEach((c, index) => {
    const [forward, back] = ways(c, index);
    it(`${c.name}: a hundred round trips drift less than a micrometre`, async () => {
      const [there, home] = [await transformer(forward), await transformer(back)];
      for (const start of points(c.box).slice(0, 20)) {
        let point = start;
        for (let i = 0; i < 100; i += 1) point = apply(home, apply(there, point));
        expect(c.metric(point, start)).toBeLessThan(1e-6);
      }
    });
  });
});

const GRIDS = [
  { file: '/usr/share/proj/BETA2007.gsb', box: [[47.6, 6.3, 0], [54.8, 14.9, 0]] },
  { file: '/usr/share/proj/ntf_r93.gsb', box: [[42, -4.5, 0], [51, 8.5, 0]] },
  { file: '/usr/share/proj/nzgd2kgrid0005.gsb', box: [[-46.5, 168, 0], [-35, 178, 0]] },
  { file: '/usr/share/proj/CHENYX06a.gsb', box: [[46.2, 7, 0], [47.2, 9.5, 0]] },
] as const;

// PROJ keeps a shift as single-precision radians: steps of 0.01 mm for 6 seconds of arc. Ours are the file's own seconds.
const GRID_TOLERANCE_M = 1.5e-5;

describe('grids of shifts agree with cct to 0.015 mm on 1,000 points', () => {
  for (const grid of GRIDS) {
    it.skipIf(!hasProgram('cct') || !existsSync(grid.file))(`${grid.file.replace(/^.*\//u, '')} (skipped where cct or the file is absent)`, async () => {
      const systems = { from: '+proj=longlat +ellps=bessel +no_defs', to: '+proj=longlat +ellps=GRS80 +no_defs', shift: grid.file };
      const c: Case = { name: 'grid', options: systems, cct: `+proj=pipeline +step ${deg('in')} +step +proj=hgridshift +grids=${grid.file} +step ${deg('out')}`.split(' '), swapIn: true, swapOut: true, box: grid.box, metric: degreesApart };
      const inputs = points(c.box);
      const there = await transformer(systems);
      const home = await transformer({ ...systems, from: systems.to, to: systems.from, inverse: true });
      const expected = runCct(c, inputs, false);
      const back = runCct(c, expected, true);
      expect(Math.max(...inputs.map((point, at) => degreesApart(apply(there, point), expected[at] ?? [Number.NaN, 0, 0])))).toBeLessThanOrEqual(GRID_TOLERANCE_M);
      expect(Math.max(...expected.map((point, at) => degreesApart(apply(home, point), back[at] ?? [Number.NaN, 0, 0])))).toBeLessThanOrEqual(GRID_TOLERANCE_M);
    });
  }
});
