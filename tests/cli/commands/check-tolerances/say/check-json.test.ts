import { describe, expect, it } from 'vitest';
import { checkJson } from '../../../../../src/cli/commands/check-tolerances/say/check-json.js';

const FINDING = {
  cause: 'base-antenna-height',
  subject: '',
  estimates: [{ name: 'too_high', value: 0.1234567, sigma: 0.01, unit: 'm' }],
  chiSquareAfter: 3,
  rmsAfterM: 0.00456,
  gain: 55.55,
  chance: 1e-9,
  isOpen: true,
  explains: true,
  alsoFits: [],
  stand: null,
} as const;

const NO = {
  answer: 'no',
  verdicts: new Map([
    ['within', 2],
    ['no', 1],
  ]),
  reasons: new Map([['check-vertical-limit', 1]]),
} as const;

describe('checkJson', () => {
  it('gives the likely cause with its size, marks ties and keeps what single occupations add', () => {
    const report = {
      observations: 9,
      chiSquareBefore: 99,
      rmsBeforeM: 0.12,
      isDisturbed: true,
      verdict: 'named',
      findings: [FINDING, { ...FINDING, cause: 'slant-height' }, { ...FINDING, cause: 'geoid' }],
      alike: ['slant-height'],
      tested: 400,
      together: [],
      thenSingles: [{ ...FINDING, cause: 'tilt', subject: 'A@1' }],
    } as const;
    const { is_within, verdict, verdict_counts, reason_counts, likely_cause } = checkJson(
      { statements: [], day: null, search: { report, points: 3, thinnedFrom: null, geoidSigmaM: null }, groups: [] },
      NO,
    );
    expect([is_within, verdict, verdict_counts, reason_counts]).toEqual([
      false,
      'no',
      { within: 2, no: 1 },
      { 'check-vertical-limit': 1 },
    ]);
    expect(likely_cause).toMatchObject({
      verdict: 'named',
      rms_before_m: 0.12,
      causes: [
        {
          cause: 'base-antenna-height',
          is_tied: true,
          evidence: 55.6,
          estimates: [{ value: 0.123457, half_width_95: 0.0196 }],
        },
        { cause: 'slant-height', is_tied: true },
        { cause: 'geoid', is_tied: false },
      ],
      single_occupations: [{ cause: 'tilt', subject: 'A@1' }],
    });
  });

  it('gives two causes that explain together, each with those it cannot be told from', () => {
    const report = {
      observations: 9,
      chiSquareBefore: 99,
      rmsBeforeM: 0.12,
      isDisturbed: true,
      verdict: 'two-causes',
      findings: [FINDING, { ...FINDING, cause: 'wrong-integer' }],
      alike: [],
      tested: 400,
      together: [
        { finding: FINDING, alike: [] },
        { finding: { ...FINDING, cause: 'wrong-integer' }, alike: ['control-coordinate'] },
      ],
      thenSingles: [],
    } as const;
    const { likely_cause } = checkJson(
      { statements: [], day: null, search: { report, points: 3, thinnedFrom: null, geoidSigmaM: null }, groups: [] },
      NO,
    );
    expect(likely_cause).toMatchObject({
      verdict: 'two-causes',
      forms_tested: 400,
      together: [
        { cause: 'base-antenna-height', or: [] },
        { cause: 'wrong-integer', or: ['control-coordinate'] },
      ],
    });
  });

  it('gives null where no cause was looked for, and the cause of each repeat that disagrees', () => {
    const group = {
      pointId: 'P',
      occupations: ['1', '2'],
      chiSquare: 40,
      degreesOfFreedom: 3,
      limit: 11.3,
      distanceM: 0,
      isUndecided: false,
      hasUnknownSetup: false,
      isSure: true,
      contrasts: [],
      odd: null,
      cause: {
        cause: 'pole-length',
        difference: { eastM: 0.003, northM: 0.004, upM: -0.21 },
        polesDiffer: false,
        poleStepM: -0.2,
      },
    } as const;
    expect(
      checkJson(
        { statements: [], day: null, search: null, groups: [group, { ...group, cause: null }] },
        { answer: 'within', verdicts: new Map(), reasons: new Map() },
      ),
    ).toEqual({
      is_within: true,
      verdict: 'within',
      verdict_counts: {},
      reason_counts: {},
      statements: [],
      likely_cause: null,
      repeats: [
        {
          point_id: 'P',
          cause: 'pole-length',
          plan_m: 0.005,
          height_m: -0.21,
          occupation_alone: null,
          pole_step_m: -0.2,
        },
      ],
    });
  });
});
