import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { AIRY_1830, GRS80, WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { operationByCode } from '../../../src/core/frames/operations/operations.js';
import type { FiledMethod } from '../../../src/core/frames/methods/filed-method.js';
import { FILED_METHODS } from '../../../src/core/frames/methods/filed-methods.js';
import { platePole } from '../../../src/core/frames/plates/plate-pole.js';
import { realisationChain } from '../../../src/core/frames/realisations/realisation-chain.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import { createGridShift } from '../../../src/core/grid/plane/grid-shift.js';
import { loadGeographicSystem, loadGridSystem } from '../../../src/files/systems/load-systems.js';
import { readSite } from '../../../src/io/documents/site/site-read.js';
import { readGeoidGrid } from '../../../src/io/grids/geoid-grid-read.js';
import { emptyPointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import type { Form, PointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import type { Step } from '../../../src/tasks/transform/step.js';
import { forwards } from '../../../src/tasks/transform/step.js';
import { geocentricStep } from '../../../src/tasks/transform/steps/geocentric-step.js';
import { geoidStep } from '../../../src/tasks/transform/steps/geoid-step.js';
import { groundStep } from '../../../src/tasks/transform/steps/ground-step.js';
import { keptHeightStep } from '../../../src/tasks/transform/steps/kept-height-step.js';
import { motionStep } from '../../../src/tasks/transform/steps/motion-step.js';
import { filedStep } from '../../../src/tasks/transform/steps/filed-step.js';
import { projectionStep } from '../../../src/tasks/transform/steps/projection-step.js';
import { realisationStep } from '../../../src/tasks/transform/steps/realisation-step.js';
import { shiftGridStep } from '../../../src/tasks/transform/steps/shift-grid-step.js';
import { shiftStep } from '../../../src/tasks/transform/steps/shift-step.js';
import { siteStep } from '../../../src/tasks/transform/steps/site-step.js';
import { topocentricStep } from '../../../src/tasks/transform/steps/topocentric-step.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

const LO21 = valueOf(loadGridSystem('EPSG:2049'));
const SITE = valueOf(readSite(readFileSync('examples/quillback-pan-site/site.json', 'utf8'), 'site.json'));

const shiftBy = (code: string, epochYear: number | null): Step =>
  valueOf(shiftStep({ shift: valueOf(operationByCode(code)).shift, id: code, caution: null }, epochYear));

/** Two degrees square, a shift of some seconds that changes over it. */
function smallShiftGrid(): Step {
  const rows = 9;
  const ramp = (a: number, b: number): Float32Array =>
    Float32Array.from({ length: rows * rows }, (_, i) => a + b * Math.floor(i / rows) - 0.7 * b * (i % rows));
  const level = { southDeg: -32, westDeg: 20, latitudeStepDeg: 0.25, longitudeStepDeg: 0.25, rows, columns: rows };
  const shift = createGridShift([{ ...level, latitudeArcsec: ramp(2, 0.1), longitudeArcsec: ramp(-1.5, 0.05) }]);
  const facts = { frame: null, fromName: null, toName: null, interpolation: 'bilinear' } as const;
  const grid = { kind: 'geographic', shift, heightAddedM: null } as const;
  return shiftGridStep({ grid, name: 'small.gsb', sha256: '', test: null, facts }, AIRY_1830, GRS80);
}

/** A place of the invented job, its pair, X, Y, Z or axes about it: whatever a step may need. */
function start(random: SeededRandom): PointOnTheWay {
  const point = emptyPointOnTheWay();
  point.latitudeDeg = random.between(-31.6, -31.3);
  point.longitudeDeg = random.between(21.2, 21.6);
  point.ellipsoidalHeightM = random.between(0, 3000);
  point.orthometricHeightM = random.between(0, 3000);
  point.first = random.between(-34_500, -31_700);
  point.second = random.between(3_479_900, 3_482_600);
  point.xM = random.between(5.0e6, 5.2e6);
  point.yM = random.between(1.9e6, 2.1e6);
  point.zM = random.between(-3.4e6, -3.2e6);
  return point;
}

/** Parameters of the methods of a shift file, by their codes. */
const PARAMETERS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  'EPSG:9621': { first_origin: -129.549, second_origin: -208.185, scale_factor: 1.00000155, rotation_arcsec: 1.56504 },
  'EPSG:9624': { a0: 82357.457, a1: 0.3047, a2: 1.5e-5, b0: 28091.324, b1: -1.5e-5, b2: 0.3048 },
  'EPSG:9616': { vertical_offset_m: -28 },
  'EPSG:1046': {
    vertical_offset_m: -0.245,
    origin_latitude_deg: -31,
    origin_longitude_deg: 21,
    inclination_latitude_arcsec: -0.21,
    inclination_longitude_arcsec: -0.032,
  },
};

const methodStep = ({ code, name, make }: FiledMethod): Step => {
  const action = valueOf(make(PARAMETERS[code] ?? {}));
  return filedStep({ name, methodCode: code, accuracyM: null, source: null, action }, GRS80);
};

const STEPS: Readonly<Record<string, () => Step | Promise<Step>>> = {
  ...Object.fromEntries(FILED_METHODS.map((method) => [`filed-step ${method.name}`, () => methodStep(method)])),
  'projection-step': () => projectionStep(LO21),
  'geocentric-step': () => geocentricStep(GRS80),
  'shift-step': () => shiftBy('EPSG:8049', 2026.9),
  'motion-step': () =>
    motionStep({
      fromYear: 2026.3,
      toYear: 1994,
      by: { kind: 'plate', pole: valueOf(platePole('Nubian', 'itrf2020')) },
    }),
  'realisation-step': () => {
    const asked = { fromCode: 'EPSG:9988', toCode: 'EPSG:4148', epochYear: 2026.9, by: null, plateModel: null };
    const chain = realisationChain(asked);
    if (chain === null) throw new Error('no chain');
    return valueOf(realisationStep(valueOf(chain)));
  },
  'kept-height-step': () => keptHeightStep([forwards(shiftBy('EPSG:1314', null))], AIRY_1830, WGS84, 'inverse'),
  'shift-grid-step': smallShiftGrid,
  'geoid-step': async () =>
    geoidStep(valueOf(createGeoidHeight(valueOf(await readGeoidGrid('egm96')), 'bilinear')), null),
  'ground-step': () =>
    valueOf(groundStep(LO21, { latitudeDeg: -31.45, longitudeDeg: 21.35, ellipsoidalHeightM: 1077 })).step,
  'topocentric-step': () =>
    topocentricStep(
      { kind: 'geodetic', at: { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1040 } },
      valueOf(loadGeographicSystem('EPSG:4148')),
    ),
  'site-step': () => siteStep(SITE, false),
};

const DEGREES = 1e-9;
const METRES = 1e-6;
/** What of a point a step must bring back, by the form it starts from, and how closely. */
const HELD: Readonly<Record<Form, readonly (readonly [keyof PointOnTheWay, number])[]>> = {
  plane: [
    ['first', METRES],
    ['second', METRES],
    ['orthometricHeightM', METRES],
  ],
  place: [
    ['latitudeDeg', DEGREES],
    ['longitudeDeg', DEGREES],
    ['ellipsoidalHeightM', METRES],
    ['orthometricHeightM', METRES],
  ],
  geocentric: [
    ['xM', METRES],
    ['yM', METRES],
    ['zM', METRES],
  ],
  topocentric: [],
};
/** A geoid makes one height of the other, so that there and back the one it makes is its own. */
const MADE: Readonly<Record<string, keyof PointOnTheWay>> = { 'geoid-step': 'ellipsoidalHeightM' };

/** Everything that a step may change. */
const NUMBERS = [
  ...['latitudeDeg', 'longitudeDeg', 'first', 'second', 'xM', 'yM', 'zM', 'eastM', 'northM', 'upM'],
  ...['ellipsoidalHeightM', 'orthometricHeightM'],
] as readonly (keyof PointOnTheWay)[];

/** Coordinates that a step has left for another form, so that they cannot come back by having stayed. */
function forget(point: PointOnTheWay, form: Form): void {
  if (form === 'place') Object.assign(point, { latitudeDeg: 0, longitudeDeg: 0 });
  if (form === 'geocentric') Object.assign(point, { xM: 0, yM: 0, zM: 0 });
}

describe('a step', () => {
  it('stands in the table below, whatever its file', () => {
    const files = readdirSync('src/tasks/transform/steps').map((name) => name.replace(/\.ts$/u, ''));
    const named = new Set(Object.keys(STEPS).map((name) => name.split(' ')[0]));
    expect(files.sort()).toEqual([...named].sort());
    expect(Object.keys(PARAMETERS).sort()).toEqual(FILED_METHODS.map(({ code }) => code).sort());
  });

  it.each(Object.keys(STEPS))('%s: its inverse closes on its forward, and moves the point on the way', async (name) => {
    const step = await (STEPS[name] ?? smallShiftGrid)();
    const random = seededRandom(20_261_129);
    let farthest = 0;
    for (let i = 0; i < 500; i += 1) {
      const point = start(random);
      const before = { ...point };
      expect(step.forward.run(point)).toBeNull();
      const middle = { ...point };
      if (step.forward.gives !== null && step.forward.gives !== step.forward.needs) forget(point, step.forward.needs);
      expect(step.inverse.run(point)).toBeNull();
      for (const [key, tolerance] of HELD[step.forward.needs]) {
        if (MADE[name] === key) continue;
        expect(Math.abs(Number(point[key]) - Number(before[key])), `${name} ${key}`).toBeLessThan(tolerance);
      }
      farthest = Math.max(farthest, ...NUMBERS.map((key) => Math.abs(Number(middle[key]) - Number(before[key]))));
    }
    expect(farthest).toBeGreaterThan(1e-6);
  });

  it.each(Object.keys(STEPS))('%s: says and records the two directions apart, or neither', async (name) => {
    const step = await (STEPS[name] ?? smallShiftGrid)();
    const [there, back] = [step.recorded('forward'), step.recorded('inverse')];
    expect(back).toHaveLength(there.length);
    if (there.length > 0) expect(back).not.toEqual(there);
  });
});

describe('what steps say of themselves', () => {
  // Regression: forms, lines, records and the working of one place, there and back. What is worked is computed again elsewhere
  // (tests/tasks/explain); this holds which numbers are shown, to how many decimals, and in which words.
  it('is what it was: of each, there and back', async () => {
    const lines: string[] = [];
    for (const [name, make] of Object.entries(STEPS)) {
      const step = await make();
      for (const direction of ['forward', 'inverse'] as const) {
        const point = start(seededRandom(7));
        const before = { ...point };
        const { needs, gives, run } = step[direction];
        const problem = run(point);
        lines.push(
          `== ${name}, ${direction}: needs ${needs}, gives ${String(gives)}${problem === null ? '' : `, ${problem.code}`}`,
        );
        lines.push(...step.said(direction), ...step.recorded(direction).map((method) => JSON.stringify(method)));
        for (const { title, formula, source, lines: worked } of step.working?.(direction, before, point) ?? [])
          lines.push(`-- ${String(title)} (${String(source)}): ${formula}`, ...worked);
      }
    }
    await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot('steps-said.txt');
  });
});

describe('a place that a grid cannot represent', () => {
  it('is named by its own latitude and longitude, whatever the point before it left', () => {
    const point = { ...emptyPointOnTheWay(), latitudeDeg: 48.5, longitudeDeg: -159, first: 123, second: 456 };
    const problem = projectionStep(LO21).forward.run(point);
    expect(problem?.message).toContain('latitude 48.5, longitude -159 is outside');
  });
});
