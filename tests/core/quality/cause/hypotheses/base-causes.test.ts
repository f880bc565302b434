import { describe, expect, it } from 'vitest';
import { baseCauses } from '../../../../../src/core/quality/cause/hypotheses/base-causes.js';
import type { CauseAntenna, CauseBase } from '../../../../../src/core/quality/cause/cause-day.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

const close = (values: readonly number[]): readonly unknown[] =>
  values.map((value) => expect.closeTo(value, 12) as unknown);
const base = (name: string, longitudeDeg: number, antenna: CauseAntenna | null = null): CauseBase => ({
  name,
  markKey: name,
  markSigmas: { horizontalM: 0, verticalM: 0 },
  latitudeDeg: 0,
  longitudeDeg,
  sigmaHorizontalM: null,
  sigmaVerticalM: null,
  antenna,
});
const columnsOf = (model: { readonly columns: readonly Float64Array[] } | undefined) =>
  model?.columns.map((column) => [...column]) ?? [];

describe('a wrong base', () => {
  it('is one vector for all points where there is one base, along their axes', () => {
    const points = [causePoint('A', { baseId: 'N' }), causePoint('B', { baseId: 'N' })];
    const models = baseCauses(causeContext(points, { bases: new Map([['N', base('N', 0)]]) }));
    const [place, ...others] = formsOf(models, 'base-coordinate');
    expect(others).toEqual([]);
    expect(place).toMatchObject({ subject: '', choices: 1 });
    expect(columnsOf(place)).toEqual([
      [1, 0, 0, 1, 0, 0],
      [0, 1, 0, 0, 1, 0],
      [0, 0, 1, 0, 0, 1],
    ]);
    expect(place === undefined ? null : readOf(place, [7, 8, 9])).toEqual({ east: 7, north: 8, up: 9 });
    expect(columnsOf(formsOf(models, 'base-antenna-height')[0])).toEqual([[0, 0, 1, 0, 0, 1]]);
  });

  it('is one geocentric vector: a quarter of the globe away, what was up at the base is west', () => {
    const far = causePoint('A', { baseId: 'N', latitudeDeg: 0, longitudeDeg: 90 });
    const models = baseCauses(causeContext([far], { bases: new Map([['N', base('N', 0)]]) }));
    const [place] = formsOf(models, 'base-coordinate');
    // Of the base at 0° 0°: east is +y, which is up at 90° east; north is north; up is +x, which is west there.
    expect(columnsOf(place)).toEqual([close([0, 0, 1]), close([0, 1, 0]), close([-1, 0, 0])]);
    // Where the point has no place the axes of the base are taken, turned by the convergence.
    const turned = causePoint('A', { baseId: 'N', convergenceDeg: 90 });
    const [other] = formsOf(
      baseCauses(causeContext([turned], { bases: new Map([['N', base('N', 0)]]) })),
      'base-coordinate',
    );
    expect(columnsOf(other)).toEqual([close([0, 1, 0]), close([-1, 0, 0]), close([0, 0, 1])]);
    for (const half of [{ latitudeDeg: 0 }, { longitudeDeg: 90 }]) {
      const [model] = formsOf(
        baseCauses(
          causeContext([causePoint('A', { baseId: 'N', ...half })], { bases: new Map([['N', base('N', 0)]]) }),
        ),
        'base-coordinate',
      );
      expect(columnsOf(model)).toEqual([close([1, 0, 0]), close([0, 1, 0]), close([0, 0, 1])]);
    }
  });

  it('takes the place of a point where the base is not described', () => {
    const points = [
      causePoint('A', { baseId: 'N' }),
      causePoint('B', { baseId: 'N', latitudeDeg: 0, longitudeDeg: 0 }),
      causePoint('C', { baseId: 'N', latitudeDeg: 0, longitudeDeg: 90 }),
    ];
    const [place] = formsOf(baseCauses(causeContext(points)), 'base-coordinate');
    expect(columnsOf(place)[2]).toEqual(close([0, 0, 1, 0, 0, 1, -1, 0, 0]));
  });

  it('is any of several bases, or all together; a point without one belongs to all alone', () => {
    const points = [causePoint('A', { baseId: 'N' }), causePoint('B', { baseId: 'S' }), causePoint('C')];
    const models = baseCauses(causeContext(points, { bases: new Map([['N', base('north', 0)]]) }));
    const places = formsOf(models, 'base-coordinate');
    expect(places.map(({ subject, choices }) => [subject, choices])).toEqual([
      ['', 3],
      ['base north', 3],
      ['base S', 3],
    ]);
    expect(columnsOf(formOf(places, 'base S'))[0]).toEqual([0, 0, 0, 1, 0, 0, 0, 0, 0]);
    expect(columnsOf(formOf(places, ''))[0]).toEqual([1, 0, 0, 1, 0, 0, 1, 0, 0]);
    const one = baseCauses(causeContext([causePoint('A', { baseId: 'N' }), causePoint('C')]));
    expect(formsOf(one, 'base-coordinate').map(({ subject }) => subject)).toEqual(['', 'base N']);
  });

  it('has no height without heights, and only heights without plan', () => {
    const plan = baseCauses(causeContext([causePoint('A', { upM: null })]));
    expect(plan.map(({ cause, columns }) => [cause, columns.length])).toEqual([['base-coordinate', 2]]);
    const high = baseCauses(causeContext([causePoint('A', { eastM: null, northM: null })]));
    expect(formsOf(high, 'base-coordinate')).toEqual([]);
    expect(formsOf(high, 'base-antenna-height')).toHaveLength(1);
  });
});

describe('a wrong antenna at the base', () => {
  const with_ = (antenna: CauseAntenna | null, phaseCentreOffsetsM: readonly number[] = []) =>
    baseCauses(
      causeContext([causePoint('A', { baseId: 'N' })], {
        bases: new Map([['N', base('N', 0, antenna)]]),
        phaseCentreOffsetsM,
      }),
    );

  it('is at most 5 m too high or too low', () => {
    const [height] = formsOf(with_(null), 'base-antenna-height');
    if (height === undefined) throw new Error('no form');
    expect(readOf(height, [-5])).toEqual({ too_high: -5 });
    expect(readOf(height, [5.1])).toBeNull();
  });

  it('may be a slant of a known size, with each plate a form', () => {
    const plates = [
      { radiusM: 0.5, offsetM: 0.04 },
      { radiusM: 0.78, offsetM: 0.04 },
    ];
    // Pythagoras: a slant of 1.3 m to a rim of 0.5 m is 1.2 m, to one of 0.78 m 1.04 m; the rim is 4 cm over the point.
    const slants = formsOf(with_({ kind: 'vertical', heightM: 1.3, verticalM: 1.3, plates }), 'slant-height');
    expect(slants.map(({ fixed }) => [...(fixed ?? [])])).toEqual([close([0, 0, 0.14]), close([0, 0, 0.3])]);
    expect(slants.map(({ choices }) => choices)).toEqual([2, 2]);
    expect(slants.map((model) => readOf(model, [])?.['too_high'])).toEqual(close([0.14, 0.3]));
    expect(slants[0]?.subject).toMatch(/^1\.3 m was a slant/u);
    const points = [causePoint('A', { baseId: 'N' }), causePoint('B', { baseId: 'S' })];
    const bases = new Map([['N', base('N', 0, { kind: 'vertical', heightM: 1.3, verticalM: 1.3, plates })]]);
    const [first] = formsOf(baseCauses(causeContext(points, { bases })), 'slant-height').filter(({ fixed }) => fixed);
    expect(first?.subject).toMatch(/^base N: 1\.3 m was a slant/u);
    expect(first?.choices).toBe(6);
  });

  it('may be a slant of a size that antennas have, where none is stated', () => {
    const [slant] = formsOf(with_(null), 'slant-height');
    if (slant === undefined) throw new Error('no form');
    // 1.5 m to a rim of 5 cm: 0.8 mm; to one of 25 cm, 10 cm over the point: 0.1210 m.
    const least = 1.5 - Math.sqrt(1.5 ** 2 - 0.05 ** 2);
    const most = 1.5 - Math.sqrt(1.5 ** 2 - 0.25 ** 2) + 0.1;
    expect(readOf(slant, [0.05])).toEqual({
      too_high: 0.05,
      expected_at_least: expect.closeTo(least, 12) as unknown,
      expected_at_most: expect.closeTo(most, 12) as unknown,
    });
    // Within 1.96 sigma of the range.
    expect(readOf(slant, [most + 0.0195], [0.01])).not.toBeNull();
    expect(readOf(slant, [most + 0.0197], [0.01])).toBeNull();
    expect(readOf(slant, [least - 0.0195], [0.01])).not.toBeNull();
    expect(readOf(slant, [least - 0.0197], [0.01])).toBeNull();
  });

  it('may lack a phase-centre offset: those that the session states, with either sign', () => {
    const forms = formsOf(with_(null, [0.08, 0, 0.11, 0.08]), 'phase-centre');
    expect(forms.map(({ fixed }) => fixed?.[2])).toEqual([0.08, -0.08, 0.11, -0.11]);
    expect(forms.map(({ choices }) => choices)).toEqual([2, 2, 2, 2]);
    expect(forms.map((model) => readOf(model, [])?.['offset'])).toEqual([0.08, -0.08, 0.11, -0.11]);
  });

  it('or, where none is stated, one of 3 to 25 cm', () => {
    for (const offsets of [[], [0, 0]]) {
      const [form, ...others] = formsOf(with_(null, offsets), 'phase-centre');
      if (form === undefined) throw new Error('no form');
      expect(others).toEqual([]);
      expect(readOf(form, [-0.1])).toEqual({ offset: -0.1, expected_at_least: 0.03, expected_at_most: 0.25 });
      expect(readOf(form, [0.0109], [0.01])).not.toBeNull();
      expect(readOf(form, [0.0103], [0.01])).toBeNull();
      expect(readOf(form, [-0.2695], [0.01])).not.toBeNull();
      expect(readOf(form, [-0.2697], [0.01])).toBeNull();
    }
  });
});
