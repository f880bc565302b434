// Writes the stream, the fixes and the session of this folder anew: node examples/quillback-pan-link/generate.mjs
// What was sent, and what goes wrong, is in README.md. The same bytes each time.
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { argv } from 'node:process';
import { fileURLToPath } from 'node:url';
import { cos, PI, sin } from '../quillback-pan/exact-arithmetic.mjs';
import { createRandom } from '../quillback-pan/random.mjs';
import { announcementBits, biasesBits, frameOf, msmBits, namesBits, stationBits, textBits } from './rtcm-encode.mjs';

export const LINK_SEED = 20260304;
const FOLDER = dirname(fileURLToPath(import.meta.url));

/** 4 March 2026 in UTC: the Wednesday of its week. */
const DAY_MS = Date.UTC(2026, 2, 4);
const MODIFIED_JULIAN_DAY = 61103;
const DAY_OF_WEEK = 3;
const LEAP_S = 18;
const MOSCOW_S = 3 * 3600;

const clock = (text) => {
  const [hours, minutes, seconds] = text.split(':').map(Number);
  return hours * 3600 + minutes * 60 + seconds;
};

/** Seconds of the day in UTC. The stream has an epoch each five seconds. */
export const STORY = {
  from: clock('07:00:00'),
  to: clock('08:10:00'),
  stepS: 5,
  /** The base is silent from the first epoch that is missing to the first that is there again. */
  baseOutage: [clock('07:22:00'), clock('07:23:30')],
  /** The height of the antenna is entered anew, from a tape laid along the tripod. */
  heightChange: clock('07:40:00'),
  heightsM: [1.6, 1.653],
  /** The rover gets nothing, while the base goes on. */
  linkOutage: [clock('07:52:00'), clock('07:53:45')],
  /** A frame of this epoch arrives damaged. */
  damaged: clock('08:02:15'),
  latencyS: 0.8,
};

/** What the base sent, and what was written into the session: two digits of the longitude are exchanged. */
const SENT = { latitudeDeg: -31.5000101, longitudeDeg: 21.400013787, ellipsoidalHeightM: 1044.51 };
const WRITTEN_LONGITUDE_DEG = '21.400017387';

/** Geocentric on WGS 84, to tenths of a millimetre. */
function geocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) {
  const a = 6378137;
  const f = 1 / 298.257223563;
  const e2 = f * (2 - f);
  const [phi, lambda] = [(latitudeDeg * PI) / 180, (longitudeDeg * PI) / 180];
  const n = a / Math.sqrt(1 - e2 * sin(phi) * sin(phi));
  const tenths = (value) => Math.round(value * 10_000) / 10_000;
  return {
    xM: tenths((n + ellipsoidalHeightM) * cos(phi) * cos(lambda)),
    yM: tenths((n + ellipsoidalHeightM) * cos(phi) * sin(lambda)),
    zM: tenths((n * (1 - e2) + ellipsoidalHeightM) * sin(phi)),
  };
}

const within = ([from, to], second) => second >= from && second < to;

/** The bytes of the recording: a head of text, then what the base sent. */
export function streamBytes(seed) {
  const random = createRandom(seed);
  const stationId = 1;
  const arp = geocentric(SENT);
  const pieces = [Buffer.from('ICY 200 OK\r\n\r\n')];
  const send = (content, padding = 0) => pieces.push(Buffer.from(frameOf(content, padding)));
  const common = { stationId, random: random.uniform };
  send(
    textBits({
      stationId,
      modifiedJulianDay: MODIFIED_JULIAN_DAY,
      secondOfDay: STORY.from,
      text: 'Quillback Pan, base at the yard',
    }),
  );
  for (let second = STORY.from; second < STORY.to; second += STORY.stepS) {
    if (within(STORY.baseOutage, second)) continue;
    const since = second - STORY.from;
    const gpsMs = (DAY_OF_WEEK * 86_400 + second + LEAP_S) * 1000;
    send(
      msmBits({
        ...common,
        number: 1074,
        timeMs: gpsMs,
        isFollowed: true,
        satellites: [2, 5, 7, 13, 15, 21, 30],
        signals: [2],
        cells: Array.from({ length: 7 }, () => true),
      }),
    );
    send(
      msmBits({
        ...common,
        number: 1084,
        timeMs: (second + MOSCOW_S) * 1000,
        dayOfWeek: DAY_OF_WEEK,
        isFollowed: false,
        satellites: [1, 8, 9, 17, 24],
        signals: [2],
        cells: Array.from({ length: 5 }, () => true),
      }),
      4,
    );
    if (second === STORY.damaged) pieces.at(-1)[40] ^= 0x10;
    if (since % 10 === 0) {
      const antennaHeightM = STORY.heightsM[second < STORY.heightChange ? 0 : 1];
      send(stationBits({ stationId, ...arp, antennaHeightM }));
      send(biasesBits({ stationId, isAligned: true, steps: [-150, null, 225, null] }));
    }
    if (since % 30 === 0)
      send(
        namesBits({
          stationId,
          antenna: 'INVENTED_ANT    NONE',
          antennaSerial: 'A0042',
          receiver: 'INVENTED RECEIVER',
          firmware: '1.0',
          receiverSerial: 'R0007',
        }),
      );
    if (since % 60 === 0)
      send(
        announcementBits({
          stationId,
          modifiedJulianDay: MODIFIED_JULIAN_DAY,
          secondOfDay: second,
          leapSeconds: LEAP_S,
          announced: [
            { number: 1074, isSynchronous: true, intervalS: 5 },
            { number: 1084, isSynchronous: true, intervalS: 5 },
            { number: 1006, isSynchronous: false, intervalS: 10 },
            { number: 1230, isSynchronous: false, intervalS: 10 },
            { number: 1033, isSynchronous: false, intervalS: 30 },
          ],
        }),
      );
  }
  return Buffer.concat(pieces);
}

/** A stand each two and a half minutes, round the yard. */
const STAND_S = 150;
/** Fixes each three seconds, so that every age between two epochs of the stream is met. */
const FIX_S = 3;
const ERROR_AT_REST_M = 0.006;
const ERROR_A_SECOND_M = 0.001;
const NORTH_M = 110_871;
const EAST_M = 94_960;
/** Beyond this age the receiver gives up its fix. */
const FLOAT_FROM_S = 60;

/** The rows of the fixes: the age of what the rover had, and errors that grow with it. */
export function fixesText(seed) {
  const random = createRandom(seed + 1);
  const rows = [
    'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,base_id',
  ];
  for (let second = STORY.from + 60; second < STORY.to; second += FIX_S) {
    const stand = Math.floor((second - STORY.from - 60) / STAND_S);
    const turn = stand * 2.4;
    const distance = 60 + 22 * stand;
    const ageS = second - latestEpoch(second);
    const sigma = Math.sqrt(ERROR_AT_REST_M ** 2 + (ERROR_A_SECOND_M * ageS) ** 2);
    const place = [
      SENT.latitudeDeg + (distance * cos(turn) + sigma * random.normal()) / NORTH_M,
      SENT.longitudeDeg + (distance * sin(turn) + sigma * random.normal()) / EAST_M,
    ];
    rows.push(
      [
        `L-${String(stand + 1).padStart(2, '0')}`,
        new Date(DAY_MS + second * 1000).toISOString().replace('.000Z', 'Z'),
        place[0].toFixed(9),
        place[1].toFixed(9),
        (1041 + 0.05 * stand + 2 * sigma * random.normal()).toFixed(4),
        ageS > FLOAT_FROM_S ? 'float' : 'fixed',
        ageS.toFixed(1),
        String(14 + Math.floor(5 * random.uniform())),
        (1.4 + 0.6 * random.uniform()).toFixed(2),
        'B1',
      ].join(','),
    );
  }
  return `${rows.join('\n')}\n`;
}

/** Second of the latest epoch that had arrived. */
function latestEpoch(second) {
  let epoch = STORY.from + Math.floor((second - STORY.from) / STORY.stepS) * STORY.stepS;
  while (
    epoch + STORY.latencyS > second ||
    within(STORY.baseOutage, epoch) ||
    within(STORY.linkOutage, epoch + STORY.latencyS)
  )
    epoch -= STORY.stepS;
  return epoch;
}

/** The session as it was typed. */
export function sessionText() {
  return `# An hour of the invented day at Quillback Pan, with the recorded stream of its base. People, places and numbers are made up.
version = 1
title = "Quillback Pan, the link of an hour (invented)"

[system]
grid = "EPSG:2049"

[rover]
reference_point = "apc"
phase_centre_offset_m = 0.0712
pole_length_m = 2.000

[[base]]
id = "B1"
from_utc = "2026-03-04T07:00:00Z"
to_utc = "2026-03-04T08:10:00Z"
broadcast = { latitude_deg = ${SENT.latitudeDeg.toFixed(9)}, longitude_deg = ${WRITTEN_LONGITUDE_DEG}, ellipsoidal_height_m = ${SENT.ellipsoidalHeightM.toFixed(4)}, at = "arp" }
known = { westing_m = -38001.0713, southing_m = 3486480.5369, ellipsoidal_height_m = 1041.8808, at = "mark" }
antenna_height_m = 1.600
antenna_height_kind = "vertical"
sigma_horizontal_m = 0.008
sigma_vertical_m = 0.012

[acceptance]
solution = ["fixed"]
max_correction_age_s = 10
`;
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(join(FOLDER, 'base.rtcm3'), streamBytes(LINK_SEED));
  writeFileSync(join(FOLDER, 'fixes.csv'), fixesText(LINK_SEED));
  writeFileSync(join(FOLDER, 'session.toml'), sessionText());
}
