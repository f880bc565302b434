// The day of a student: the yard of Quillback Pan with its points drawn by the seed. All names and numbers are invented.
import { DAY_PLAN } from '../quillback-pan/day-plan.mjs';

const CONTROL_COUNT = 5;
const WORK_COUNT = 8;
const STAND_S = 30;
/** From the beginning of one stand to that of the next: each point is occupied again more than two hours later. */
const STEP_S = 660;
const START_S = 5 * 3600;

const rounded = (value, decimals) => Number(value.toFixed(decimals));
const between = (random, least, most) => least + (most - least) * random.uniform();
const timeOfDay = (seconds) =>
  [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60]
    .map((part) => String(part).padStart(2, '0'))
    .join(':');

/** A plan as examples/quillback-pan/day-plan.mjs has one: five control points and eight new ones, each occupied twice. */
export function dayOfStudent(random) {
  const heightM = rounded(between(random, 1020, 1070), 2);
  const around = (count, letters, code, leastKm, mostKm) =>
    Array.from({ length: count }, (_, index) => ({
      id: `${letters}-${String(index + 1).padStart(2, '0')}`,
      code,
      km: rounded(between(random, leastKm, mostKm), 2),
      azimuthDeg: rounded(((index + between(random, 0.1, 0.9)) * 360) / count, 1),
      heightM: rounded(heightM + between(random, -25, 25), 1),
    }));
  const control = around(CONTROL_COUNT, 'C', 'beacon', 1.2, 7);
  const work = around(WORK_COUNT, 'QC', 'water point', 0.4, 8);
  const tour = [
    ...control.slice(0, 2),
    ...work.slice(0, 4),
    ...control.slice(2, 3),
    ...work.slice(4),
    ...control.slice(3),
  ];
  const stands = [...tour, ...tour].map(({ id }, place) => ({
    point: id,
    time: timeOfDay(START_S + STEP_S * place),
    seconds: STAND_S,
    base: 'B1',
  }));
  const base = {
    id: 'B1',
    from: '04:30:00',
    to: '12:00:00',
    km: 0,
    azimuthDeg: 0,
    heightM,
    broadcastOffM: [0, 0, 0].map(() => rounded(between(random, -1.5, 1.5), 2)),
    antenna: { kind: 'vertical', heightM: rounded(between(random, 1.35, 1.75), 3) },
  };
  return { ...DAY_PLAN, bases: [base], points: [...control, ...work], stands, planted: [] };
}
