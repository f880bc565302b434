// The story of the job: three days, three loggers, two bases, and what went wrong. All names are invented.
import { DAY_PLAN } from '../quillback-pan/day-plan.mjs';

const at = (id, code, km, azimuthDeg, heightM) => ({ id, code, km, azimuthDeg, heightM });

/** Distances and azimuths from B1's mark; C points are control, B2 is a peg that the third day stands on. */
export const POINTS = [
  at('C-01', 'beacon', 0.21, 140, 1040.2),
  at('C-02', 'beacon', 26.9, 246, 1081.3),
  at('C-03', 'beacon', 12.7, 195, 1055.4),
  at('B2', 'base peg', 25.8, 247.5, 1079.1),
  at('QP-31', 'borehole', 1.3, 31, 1044.6),
  at('QP-32', 'valve', 3.8, 122, 1037.9),
  at('QP-33', 'scour', 7.4, 204, 1046.2),
  at('QP-34', 'valve', 11.2, 238, 1059.8),
  at('QP-35', 'trough', 17.5, 251, 1068.4),
  at('QP-36', 'air valve', 22.3, 244, 1074.9),
  at('QP-37', 'reservoir', 28.4, 249, 1088.7),
  at('QP-38', 'borehole', 33.6, 252, 1093.2),
  at('QP-39', 'trough', 38.1, 243, 1099.6),
];

const base = (id, km, azimuthDeg, heightM, broadcastOffM, antenna) => ({
  id,
  from: '05:00:00',
  to: '16:00:00',
  km,
  azimuthDeg,
  heightM,
  broadcastOffM,
  antenna,
});

const stand = (point, time, seconds, more = {}) => ({ point, time, seconds, base: 'B1', ...more });

/** Each day has its base set up anew, and a logger of its own. */
export const DAYS = [
  {
    id: '2026-03-09',
    logger: 'plain',
    base: base('B1', 0, 0, 1041.87, [1.24, -0.95, 1.11], { kind: 'vertical', heightM: 1.583 }),
    stands: [
      stand('C-01', '06:02:00', 40),
      stand('QP-31', '06:20:00', 30),
      stand('QP-32', '06:45:00', 30),
      stand('QP-33', '07:20:00', 30, { outliers: [7, 19] }),
      stand('QP-34', '08:05:00', 30),
      stand('C-03', '08:40:00', 40),
      stand('QP-35', '09:25:00', 40),
      stand('QP-36', '10:10:00', 40),
      stand('B2', '10:50:00', 120),
      stand('C-02', '11:25:00', 40),
      stand('B2', '14:05:00', 120),
    ],
  },
  {
    id: '2026-03-10',
    logger: 'foreign',
    base: base('B1', 0, 0, 1041.87, [-0.66, 0.71, -1.37], { kind: 'vertical', heightM: 1.621 }),
    stands: [
      stand('C-01', '06:10:00', 40),
      stand('QP-31', '06:35:00', 30, { writtenPoint: 'QP-13' }),
      stand('QP-32', '07:05:00', 30, { wrongFixM: [0.088, -0.061, 0.094] }),
      stand('QP-32', '09:40:00', 30),
      stand('QP-33', '10:15:00', 30),
      stand('QP-35', '11:20:00', 40),
      stand('C-02', '12:30:00', 40),
      stand('C-01', '14:45:00', 40),
    ],
  },
  {
    id: '2026-03-11',
    logger: 'sentences',
    base: base('B2', 25.8, 247.5, 1079.1, [2.31, 1.08, -1.92], { kind: 'vertical', heightM: 1.472 }),
    stands: [
      stand('C-02', '06:15:00', 40, { base: 'B2' }),
      stand('QP-36', '06:50:00', 30, { base: 'B2' }),
      stand('QP-35', '07:30:00', 30, { base: 'B2' }),
      stand('QP-37', '08:15:00', 30, { base: 'B2' }),
      stand('QP-38', '09:05:00', 30, { base: 'B2' }),
      stand('QP-39', '10:00:00', 30, { base: 'B2' }),
      stand('C-02', '12:40:00', 40, { base: 'B2' }),
    ],
  },
];

/** What a simulation of a day needs besides its stands. */
export const { origin: ORIGIN, poleLengthM: POLE_LENGTH_M } = DAY_PLAN;
