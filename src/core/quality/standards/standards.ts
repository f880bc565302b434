import { constantLimit } from './limit-rule.js';
import { proportionOrder, realTimeClass } from './standard.js';
import type { Standard } from './standard.js';

export type { Standard, StandardAcceptance } from './standard.js';

/** Every standard of `--standard`, in the order of `--standard list`. */
export const STANDARDS: readonly Standard[] = [
  {
    id: 'nssda',
    title: 'accuracy of positions at 95 % from check points (NSSDA)',
    source: 'FGDC-NSSDA',
    locator: 'section 3.2 and appendix 3-A',
    recall: 'second hand',
    asks: [
      '20 or more check points of independent higher accuracy, well spread',
      'horizontal 2.4477 times the mean of the two RMSEs (ratio 0.6 to 1), vertical 1.9600 times RMSE',
      'systematic error removed, normal errors',
    ],
    kind: 'nssda',
    rules: [],
    acceptance: null,
    notJudged: [
      'that the check points are independent and of higher accuracy',
      'that they are well spread over the area',
      'that the errors are normal',
    ],
  },
  {
    id: 'fgdc-classes',
    title: 'accuracy classes of control (FGDC part 2)',
    source: 'FGDC-STD-007.2',
    locator: 'table 2.1',
    recall: 'from memory',
    asks: [
      'the 95 % circle and the 95 % height figure of each point, from its covariance',
      'class: the smallest of 1, 2, 5 mm, 1, 2, 5 cm, 1, 2, 5 dm, 1, 2, 5, 10 m that holds the figure',
      'classes describe stated uncertainty; check points are a separate test',
    ],
    kind: 'classes',
    rules: [],
    acceptance: null,
    notJudged: ['that the stated sigmas are true: hold the points against control', 'ties to the national network'],
  },
  {
    id: 'iso-17123-8',
    title: 'field procedure for real-time receivers (ISO 17123-8)',
    source: 'ISO-17123-8',
    locator: 'sections 6 and 7',
    recall: 'from memory',
    asks: [
      'two rover points 2 m to 20 m apart, known to 3 mm; sets of both points about 5 minutes apart',
      'simplified: 1 series of 5 sets, gross-error screen 2.5·√2·σ only',
      'full: 3 series of 5 sets starting 90 minutes apart; s with 56 and 28 degrees of freedom; χ² and F tests at 95 %',
    ],
    kind: 'iso-17123-8',
    rules: [],
    acceptance: null,
    notJudged: ['the times between sets and between series', 'that the nominal values are known to 3 mm'],
  },
  realTimeClass(1, 0.02, 0.04, 0.01, {
    maxPdop: 2,
    minSatellites: 7,
    maxBaselineM: 10_000,
    minDurationS: 180,
    minOccupations: 2,
    minSeparationS: 14_400,
    minBases: 2,
  }),
  realTimeClass(2, 0.04, 0.05, 0.015, {
    maxPdop: 3,
    minSatellites: 6,
    maxBaselineM: 15_000,
    minDurationS: 60,
    minOccupations: 2,
    minSeparationS: 14_400,
    minBases: 1,
  }),
  realTimeClass(3, 0.06, 0.08, 0.03, {
    maxPdop: 4,
    minSatellites: 5,
    maxBaselineM: 20_000,
    minDurationS: 15,
    minOccupations: 1,
    minSeparationS: 0,
    minBases: 1,
  }),
  realTimeClass(4, 0.2, 0.3, 0.05, {
    maxPdop: 6,
    minSatellites: 5,
    maxBaselineM: null,
    minDurationS: 10,
    minOccupations: 1,
    minSeparationS: 0,
    minBases: 1,
  }),
  {
    id: 'heights-5cm',
    title: 'ellipsoidal or orthometric heights to 5 cm',
    source: 'NGS-58',
    locator: 'summary; orthometric heights: NGS-59',
    recall: 'second hand',
    asks: ['height differences within 5 cm at 95 %', 'every point occupied twice, at different times of day'],
    kind: 'limits',
    rules: [constantLimit('heights 5 cm', 'up', 0.05, 0.95)],
    acceptance: {
      maxPdop: null,
      minSatellites: null,
      maxBaselineM: null,
      minDurationS: null,
      minOccupations: 2,
      minSeparationS: 10_800,
      minBases: 1,
    },
    notJudged: [
      'length of sessions, spacing of stations and ties to control',
      'that repeats are on different days',
      'fixed-height tripods, and the network that joins the stations',
    ],
  },
  {
    id: 'heights-2cm',
    title: 'ellipsoidal or orthometric heights to 2 cm, local',
    source: 'NGS-58',
    locator: 'summary; orthometric heights: NGS-59',
    recall: 'second hand',
    asks: ['height differences within 2 cm at 95 %', 'every point occupied twice, at different times of day'],
    kind: 'limits',
    rules: [constantLimit('heights 2 cm', 'up', 0.02, 0.95)],
    acceptance: {
      maxPdop: null,
      minSatellites: null,
      maxBaselineM: null,
      minDurationS: null,
      minOccupations: 2,
      minSeparationS: 10_800,
      minBases: 1,
    },
    notJudged: [
      'length of sessions, spacing of stations and ties to control',
      'that repeats are on different days',
      'fixed-height tripods, and the network that joins the stations',
    ],
  },
  proportionOrder('cadastral-marks', 'constant and proportion, reference marks', 0.03, 150, 0.5, 'published'),
  proportionOrder('cadastral-a', 'constant and proportion, class A', 0.06, 150, 0.5, 'from memory'),
  proportionOrder('cadastral-b', 'constant and proportion, class B', 0.3, 600, 0.5, 'from memory'),
  proportionOrder('cadastral-c', 'constant and proportion, class C', 1, 3000, null, 'published'),
];

/** Accuracy classes of FGDC part 2, metres; from memory. */
export const ACCURACY_CLASSES_M: readonly number[] = [
  0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10,
];

/** The smallest class that holds a 95 % figure, metres; null beyond the largest. */
export function accuracyClass(figure95M: number): number | null {
  return ACCURACY_CLASSES_M.find((size) => figure95M <= size) ?? null;
}
