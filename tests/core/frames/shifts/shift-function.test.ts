import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { applyShift } from '../../../../src/core/frames/shifts/shift-apply.js';
import type { Shift, ShiftMethod } from '../../../../src/core/frames/shifts/shift-definition.js';
import { createShiftFunction } from '../../../../src/core/frames/shifts/shift-function.js';
import { shiftRotationForm } from '../../../../src/core/frames/shifts/shift-rotation-form.js';
import type { GeocentricPoint } from '../../../../src/records/points/point.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { apartM, geocentricOf, shiftOfRow, shiftWith, valueOf } from '../../../support/shift-of-row.js';

const rows = readReferenceTable('shifts').map((row) => ({
  name: row.case,
  row,
  shift: shiftOfRow(row),
  epoch: row.numberOrNull('epoch_year'),
  source: geocentricOf(row.numbers('source_m')),
  target: geocentricOf(row.numbers('target_m')),
}));

describe('published shifts', () => {
  it.each(rows)('$name: forward', (c) => {
    expect(apartM(valueOf(applyShift(c.shift, c.source, c.epoch, 'forward')), c.target)).toBeLessThanOrEqual(
      c.row.tolerance,
    );
  });

  it.each(rows)('$name: inverse', (c) => {
    expect(apartM(valueOf(applyShift(c.shift, c.target, c.epoch, 'inverse')), c.source)).toBeLessThanOrEqual(
      c.row.tolerance * 1.01,
    );
  });

  it.each(rows)('$name: a hundred round trips drift less than a micrometre', (c) => {
    let point: GeocentricPoint = c.source;
    for (let i = 0; i < 100; i += 1) {
      point = valueOf(applyShift(c.shift, valueOf(applyShift(c.shift, point, c.epoch, 'forward')), c.epoch, 'inverse'));
    }
    expect(apartM(point, c.source)).toBeLessThan(1e-6);
  });

  it('cover every method', () => {
    expect(new Set(rows.map((c) => c.shift.method)).size).toBe(7);
  });
});

const COMMON = {
  txM: 446.448,
  tyM: -125.157,
  tzM: 542.06,
  rxArcsec: 0.15,
  ryArcsec: -1.247,
  rzArcsec: 0.842,
  dsPpm: -20.489,
};
const RATES = {
  txMPerYear: 0.02,
  tyMPerYear: -0.01,
  tzMPerYear: 0.015,
  rxArcsecPerYear: 0.002,
  ryArcsecPerYear: -0.001,
  rzArcsecPerYear: 0.0012,
  dsPpmPerYear: 0.001,
};
const PIVOT = { xM: 2464351.59, yM: -5783466.61, zM: 974809.81 };
const LARGE = { ...COMMON, rxArcsec: -5.266, ryArcsec: 31.5, rzArcsec: 12.381 };

const CASES: readonly { readonly name: string; readonly shift: Shift }[] = [
  {
    name: 'geocentric translation',
    shift: shiftWith('geocentric-translation', {
      parameters: { ...COMMON, rxArcsec: 0, ryArcsec: 0, rzArcsec: 0, dsPpm: 0 },
    }),
  },
  { name: 'position vector', shift: shiftWith('position-vector', { parameters: COMMON }) },
  { name: 'coordinate frame', shift: shiftWith('coordinate-frame', { parameters: COMMON }) },
  { name: 'position vector, full matrix', shift: shiftWith('position-vector', { parameters: LARGE }) },
  { name: 'coordinate frame, full matrix', shift: shiftWith('coordinate-frame', { parameters: LARGE }) },
  {
    name: 'time-dependent position vector',
    shift: shiftWith('time-dependent-position-vector', { parameters: COMMON, rates: RATES, referenceEpochYear: 1994 }),
  },
  {
    name: 'time-dependent coordinate frame',
    shift: shiftWith('time-dependent-coordinate-frame', { parameters: COMMON, rates: RATES, referenceEpochYear: 1994 }),
  },
  {
    name: 'Molodensky-Badekas, position vector',
    shift: shiftWith('molodensky-badekas-position-vector', { parameters: COMMON, pivot: PIVOT }),
  },
  {
    name: 'Molodensky-Badekas, coordinate frame',
    shift: shiftWith('molodensky-badekas-coordinate-frame', { parameters: COMMON, pivot: PIVOT }),
  },
  {
    name: 'Molodensky-Badekas, full matrix',
    shift: shiftWith('molodensky-badekas-coordinate-frame', { parameters: LARGE, pivot: PIVOT }),
  },
];
const EPOCH = 2026.3;

function cctArguments(shift: Shift): readonly string[] {
  const p = shift.parameters;
  const r = shift.rates;
  const turns = shift.method !== 'geocentric-translation';
  const form = valueOf(shiftRotationForm(shift, EPOCH));
  return [
    `+proj=${shift.pivot === null ? 'helmert' : 'molobadekas'}`,
    `+x=${String(p.txM)}`,
    `+y=${String(p.tyM)}`,
    `+z=${String(p.tzM)}`,
    ...(turns
      ? [
          `+rx=${String(p.rxArcsec)}`,
          `+ry=${String(p.ryArcsec)}`,
          `+rz=${String(p.rzArcsec)}`,
          `+s=${String(p.dsPpm)}`,
          `+convention=${shift.method.includes('position') ? 'position_vector' : 'coordinate_frame'}`,
        ]
      : []),
    ...(form === 'full' ? ['+exact'] : []),
    ...(r === null
      ? []
      : [
          `+dx=${String(r.txMPerYear)}`,
          `+dy=${String(r.tyMPerYear)}`,
          `+dz=${String(r.tzMPerYear)}`,
          `+drx=${String(r.rxArcsecPerYear)}`,
          `+dry=${String(r.ryArcsecPerYear)}`,
          `+drz=${String(r.rzArcsecPerYear)}`,
          `+ds=${String(r.dsPpmPerYear)}`,
          `+t_epoch=${String(shift.referenceEpochYear)}`,
        ]),
    ...(shift.pivot === null
      ? []
      : [`+px=${String(shift.pivot.xM)}`, `+py=${String(shift.pivot.yM)}`, `+pz=${String(shift.pivot.zM)}`]),
  ];
}

function randomPoints(seed: number): readonly GeocentricPoint[] {
  const random = seededRandom(seed);
  return Array.from({ length: 1000 }, () =>
    geodeticToGeocentric(
      {
        latitudeDeg: random.between(-90, 90),
        longitudeDeg: random.between(-180, 180),
        ellipsoidalHeightM: random.between(-100, 5000),
      },
      WGS84,
    ),
  );
}

function cct(args: readonly string[], points: readonly GeocentricPoint[]): readonly GeocentricPoint[] {
  const input = points
    .map((p) => `${p.xM.toFixed(9)} ${p.yM.toFixed(9)} ${p.zM.toFixed(9)} ${String(EPOCH)}`)
    .join('\n');
  return runProgram('cct', ['-d', '8', ...args], `${input}\n`).map((line) => geocentricOf(numbersOf(line)));
}

describe.skipIf(!hasProgram('cct'))('a thousand random points against cct (skipped where cct is absent)', () => {
  it.each(CASES)('$name: forward agrees to 0.01 mm', ({ shift }) => {
    const points = randomPoints(41);
    const theirs = cct(cctArguments(shift), points);
    const run = valueOf(createShiftFunction(shift, EPOCH, 'forward'));
    const out = { xM: 0, yM: 0, zM: 0 };
    let worst = 0;
    points.forEach((p, i) => {
      run(p.xM, p.yM, p.zM, out);
      worst = Math.max(worst, apartM(out, theirs[i] as GeocentricPoint));
    });
    expect(theirs.length).toBe(1000);
    expect(worst).toBeLessThan(1e-5);
  });

  it.each(CASES)('$name: cct takes what our inverse gives back to where it came from, to 0.01 mm', ({ shift }) => {
    const points = randomPoints(42);
    const run = valueOf(createShiftFunction(shift, EPOCH, 'inverse'));
    const ours = points.map((p) => {
      const out = { xM: 0, yM: 0, zM: 0 };
      run(p.xM, p.yM, p.zM, out);
      return out;
    });
    const returned = cct(cctArguments(shift), ours);
    expect(Math.max(...returned.map((p, i) => apartM(p, points[i] as GeocentricPoint)))).toBeLessThan(1e-5);
  });

  it.each(CASES.filter(({ shift }) => valueOf(shiftRotationForm(shift, EPOCH)) !== 'small-angle'))(
    '$name: inverse agrees with the inverse of cct to 0.01 mm',
    ({ shift }) => {
      const points = randomPoints(43);
      const theirs = cct(['-I', ...cctArguments(shift)], points);
      const run = valueOf(createShiftFunction(shift, EPOCH, 'inverse'));
      const out = { xM: 0, yM: 0, zM: 0 };
      let worst = 0;
      points.forEach((p, i) => {
        run(p.xM, p.yM, p.zM, out);
        worst = Math.max(worst, apartM(out, theirs[i] as GeocentricPoint));
      });
      expect(worst).toBeLessThan(1e-5);
    },
  );
});

describe('the rotation matrix', () => {
  const rotated = (rxArcsec: number, rotationMatrix: Shift['rotationMatrix']): Shift =>
    shiftWith('position-vector', {
      rotationMatrix,
      parameters: { txM: 0, tyM: 0, tzM: 0, dsPpm: 0, rxArcsec, ryArcsec: 0, rzArcsec: 0 },
    });

  it('is the small-angle one up to 2 seconds and the full one above, unless the shift says which', () => {
    expect(valueOf(shiftRotationForm(rotated(0, 'automatic'), null))).toBe('none');
    expect(valueOf(shiftRotationForm(rotated(2, 'automatic'), null))).toBe('small-angle');
    expect(valueOf(shiftRotationForm(rotated(-2.0001, 'automatic'), null))).toBe('full');
    expect(valueOf(shiftRotationForm(rotated(5, 'small-angle'), null))).toBe('small-angle');
    expect(valueOf(shiftRotationForm(rotated(1, 'full'), null))).toBe('full');
  });

  it('keeps lengths when full, where the small-angle one stretches by half the square of the rotation', () => {
    const point = { xM: 0, yM: 6378137, zM: 0 };
    const length = (shift: Shift): number => {
      const p = valueOf(applyShift(shift, point, null, 'forward'));
      return Math.hypot(p.xM, p.yM, p.zM);
    };
    expect(Math.abs(length(rotated(10, 'full')) - 6378137)).toBeLessThan(1e-8);
    expect(length(rotated(10, 'small-angle')) - 6378137).toBeCloseTo(6378137 * 0.5 * ((10 * Math.PI) / 648000) ** 2, 6);
  });

  it('turns opposite ways in the two conventions: the wrong one moves a point by twice the turn', () => {
    const parameters = { txM: 0, tyM: 0, tzM: 0, dsPpm: 0, rxArcsec: 0, ryArcsec: 0, rzArcsec: 1 };
    const point = { xM: 6378137, yM: 0, zM: 0 };
    const pv = valueOf(applyShift(shiftWith('position-vector', { parameters }), point, null, 'forward'));
    const cf = valueOf(applyShift(shiftWith('coordinate-frame', { parameters }), point, null, 'forward'));
    expect(pv.yM).toBeGreaterThan(0);
    expect(pv.yM - cf.yM).toBeCloseTo((2 * 6378137 * Math.PI) / 648000, 6);
  });
});

describe('what cannot be computed', () => {
  const timed = shiftWith('time-dependent-position-vector', { rates: RATES, referenceEpochYear: 1994 });
  const codeOf = (shift: Shift, epoch: number | null, point: GeocentricPoint = PIVOT): string | undefined =>
    applyShift(shift, point, epoch, 'forward').problems[0]?.code;

  it('is refused: a time-dependent shift without an epoch or a reference epoch', () => {
    expect(codeOf(timed, null)).toBe('shift-epoch-missing');
    expect(codeOf({ ...timed, referenceEpochYear: null }, 2020)).toBe('config-missing');
  });

  it('is refused: numbers that are not finite, in the shift, the epoch or the point', () => {
    expect(codeOf(timed, NaN)).toBe('config-invalid-value');
    expect(codeOf(shiftWith('position-vector', { parameters: { ...COMMON, txM: Infinity } }), null)).toBe(
      'config-invalid-value',
    );
    expect(codeOf(timed, 2020, { xM: NaN, yM: 0, zM: 0 })).toBe('value-out-of-range');
  });

  it('is refused: a pivoted method without its pivot, and a scale that folds space', () => {
    expect(codeOf(shiftWith('molodensky-badekas-position-vector', { parameters: COMMON }), null)).toBe(
      'config-missing',
    );
    expect(codeOf(shiftWith('position-vector', { parameters: { ...COMMON, dsPpm: -2e6 } }), null)).toBe(
      'config-invalid-value',
    );
  });

  it('needs no epoch where the shift does not change with time', () => {
    const methods: readonly ShiftMethod[] = ['geocentric-translation', 'position-vector', 'coordinate-frame'];
    for (const method of methods) expect(codeOf(shiftWith(method, {}), null)).toBeUndefined();
  });
});
