// The story: who stood where, when, and what went wrong. All names are invented.

/** Base marks. B1 broadcasts a coordinate about two metres off; B2, later, one 0.4 m off. */
const BASES = [
  {
    id: 'B1',
    from: '04:30:00',
    to: '16:00:00',
    km: 0,
    azimuthDeg: 0,
    heightM: 1041.87,
    broadcastOffM: [1.31, -1.12, 1.04],
    antenna: { kind: 'vertical', heightM: 1.6 },
  },
  {
    id: 'B2',
    from: '10:30:00',
    to: '13:30:00',
    km: 40,
    azimuthDeg: 248,
    heightM: 1093.4,
    broadcastOffM: [-0.27, 0.22, 0.19],
    antenna: { kind: 'slant', heightM: 1.652, radiusM: 0.0892, offsetM: 0.0305 },
  },
];

const at = (id, code, km, azimuthDeg, heightM) => ({ id, code, km, azimuthDeg, heightM });

/** Distances and azimuths from B1's mark; C points are control. */
const POINTS = [
  at('C-01', 'beacon', 0.21, 140, 1040.2),
  at('QP-01', 'borehole', 0.46, 38, 1042.9),
  at('QP-02', 'trough', 0.93, 310, 1039.6),
  at('QP-03', 'pump base', 1.62, 205, 1037.3),
  at('QP-04', 'reservoir', 2.84, 71, 1052.6),
  at('QP-05', 'valve', 4.2, 166, 1036.8),
  at('QP-06', 'air valve', 5.9, 228, 1044.1),
  at('QP-07', 'scour', 8.1, 352, 1031.5),
  at('QP-08', 'valve', 9.7, 262, 1047.7),
  at('QP-09', 'borehole', 13.1, 189, 1058.3),
  at('QP-10', 'pipe bend', 15.4, 271, 1062.2),
  at('QP-11', 'valve', 19.2, 240, 1066.9),
  at('QP-12', 'trough', 22.6, 283, 1071),
  at('QP-13', 'air valve', 26.3, 236, 1077.5),
  at('QP-14', 'borehole', 31.1, 259, 1082.8),
  at('QP-15', 'valve', 36.8, 244, 1090.1),
  at('QP-16', 'break tank', 42.9, 249, 1101.6),
  at('QP-17', 'trough', 49.3, 255, 1117.2),
  at('QP-18', 'borehole', 55, 251, 1131.4),
  at('C-02', 'beacon', 41.2, 247, 1096.4),
  at('QP-19', 'pipe bend', 40.9, 245.2, 1097.7),
  at('QP-20', 'valve', 43.7, 247, 1104.5),
  at('C-03', 'beacon', 57.2, 250, 1139.9),
  at('QP-21', 'fence corner', 3.4, 118, 1034.4),
  at('QP-22', 'windpump', 1.1, 262, 1041.1),
  at('QP-23', 'gate', 0.7, 155, 1038.7),
];

const stand = (point, time, seconds, more = {}) => ({ point, time, seconds, base: 'B1', ...more });
const lean = (tiltDeg, azimuthDeg) => ({ tilt: { tiltDeg, azimuthDeg } });

/** In order of time. Spans are in seconds from the start of the stand. */
const STANDS = [
  stand('C-01', '05:02:00', 90),
  stand('QP-01', '05:11:00', 60),
  stand('QP-02', '05:19:00', 60, lean(12.4, 215)),
  stand('QP-03', '05:31:00', 60, { wrongFixM: [0.071, -0.058, 0.077] }),
  stand('QP-04', '05:47:00', 60, lean(18.6, 64)),
  stand('QP-05', '06:03:00', 75, { outliers: [14, 37, 61] }),
  stand('QP-06', '06:19:00', 60, { writtenPoleM: 1.8 }),
  stand('QP-07', '06:41:00', 60, lean(26.1, 301)),
  stand('QP-08', '06:58:00', 80, { float: [0, 24] }),
  stand('QP-09', '07:21:00', 90, { aged: [52, 81] }),
  stand('QP-10', '07:39:00', 90, { poorSky: [20, 43] }),
  stand('QP-11', '07:58:00', 90),
  stand('QP-12', '08:16:00', 90, lean(9.3, 144)),
  stand('QP-13', '08:33:00', 90),
  stand('QP-14', '08:51:00', 90),
  stand('QP-15', '09:09:00', 100),
  stand('QP-16', '09:27:00', 100),
  stand('QP-17', '09:44:00', 100, lean(7.5, 22)),
  stand('QP-18', '10:02:00', 110),
  stand('C-03', '10:17:00', 110),
  stand('QP-20', '11:04:00', 60, { base: 'B2' }),
  stand('QP-19', '11:19:00', 60, { base: 'B2', ...lean(15.2, 251) }),
  stand('C-02', '11:38:00', 90, { base: 'B2' }),
  stand('QP-16', '12:07:00', 60, { base: 'B2' }),
  stand('QP-15', '12:31:00', 60, { base: 'B2' }),
  stand('QP-13', '13:07:00', 90),
  stand('QP-11', '13:29:00', 90),
  stand('QP-09', '13:47:00', 60),
  stand('QP-06', '14:12:00', 60),
  stand('QP-05', '14:26:00', 60),
  stand('QP-03', '14:41:00', 60),
  stand('QP-04', '14:54:00', 60, lean(21.3, 247)),
  stand('QP-21', '15:04:00', 40, { float: [0, 40] }),
  stand('QP-22', '15:14:00', 6),
  stand('QP-23', '15:22:00', 50, { walkMetresPerSecond: 0.9 }),
  stand('QP-02', '15:31:00', 60),
  stand('C-01', '15:44:00', 90),
];

/** What was planted and which reason must show it, for the reader and for the test. */
const PLANTED = [
  { pointId: 'QP-03', occupation: '1', what: 'wrong integers: tight and 0.12 m off', shown: 'point-repeat-disagrees' },
  { pointId: 'QP-05', occupation: '1', what: 'three lone outliers among the epochs', shown: 'epoch-outlier' },
  {
    pointId: 'QP-06',
    occupation: '1',
    what: "yesterday's pole length written down, 1.8 for 2.0 m",
    shown: 'point-pole-length-changed',
  },
  { pointId: 'QP-08', occupation: '1', what: 'float before the fix', shown: 'epoch-not-fixed' },
  {
    pointId: 'QP-09',
    occupation: '1',
    what: 'the mobile link dropped: corrections up to 30 s old',
    shown: 'epoch-correction-age',
  },
  { pointId: 'QP-10', occupation: '1', what: 'few satellites, poor geometry', shown: 'epoch-pdop' },
  { pointId: 'QP-21', occupation: '1', what: 'never fixed', shown: 'point-no-accepted-epoch' },
  { pointId: 'QP-22', occupation: '1', what: 'stood too briefly', shown: 'point-too-few-epochs' },
  { pointId: 'QP-23', occupation: '1', what: 'walked, not stood', shown: 'point-antenna-moving' },
];

/** The plan of the committed day. */
export const DAY_PLAN = {
  date: '2026-03-04',
  origin: { latitudeDeg: -31.5, longitudeDeg: 21.4 },
  poleLengthM: 2,
  bases: BASES,
  points: POINTS,
  stands: STANDS,
  planted: PLANTED,
};
