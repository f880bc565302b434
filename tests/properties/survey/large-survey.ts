import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';

/** A survey as text cells, before anybody has written it to a file. */
export interface Survey {
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** Columns of no meaning to us; with the note they come out in the file's own order. */
export const CARRIED: readonly string[] = ['crew', 'Bemerkung', 'note'];
const HEADER = [
  'point_id',
  'code',
  'epoch_utc',
  'latitude_deg',
  'longitude_deg',
  'ellipsoidal_height_m',
  'solution',
  'correction_age_s',
  'satellites_used',
  'pdop',
  'sigma_east_m',
  'sigma_north_m',
  'sigma_up_m',
  'correlation_en',
  'base_id',
  'pole_length_m',
  'tilt_deg',
  'tilt_azimuth_deg',
  ...CARRIED,
];
const NAMES = ['007', 'P, 7', 'say "x"', 'Ж-12', '点-5', 'Ünter Ø', 'a;b', "o'clock", '%20 #1'];
const CODES = ['beacon', 'peg', 'löschwasser', 'fence, corner', 'a;b'];
const DEG = Math.PI / 180;
const START_MS = Date.UTC(2026, 2, 4, 5);

/** Three set-ups of two bases, one of them of the same name as another, all broadcasting a coordinate that is wrong. */
export const SURVEY_SESSION: string = `version = 1
[system]
grid = "EPSG:2049"
[height]
geoid = "geoid.csv"
sigma_m = 0.02
[rover]
reference_point = "apc"
phase_centre_offset_m = 0.0712
pole_length_m = 2.0
tilt_azimuth = "top-from-tip"
tilt_azimuth_sigma_deg = 1.0
${(
  [
    [
      'B1',
      '2026-03-04T04:30:00Z',
      '2026-03-04T09:59:59Z',
      '-31.5000101, longitude_deg = 21.400013787, ellipsoidal_height_m = 1044.51',
      '-31.50000005, longitude_deg = 21.4, ellipsoidal_height_m = 1041.8808',
    ],
    [
      'B1',
      '2026-03-04T10:00:00Z',
      '2026-03-05T04:00:00Z',
      '-31.4000090, longitude_deg = 21.500011, ellipsoidal_height_m = 1052.1',
      '-31.4, longitude_deg = 21.5, ellipsoidal_height_m = 1049.7',
    ],
    [
      'B2',
      '2026-03-04T04:30:00Z',
      '2026-03-05T04:00:00Z',
      '-31.635139798, longitude_deg = 21.009613493, ellipsoidal_height_m = 1095.2091',
      '-31.635141746, longitude_deg = 21.00961647, ellipsoidal_height_m = 1093.4094',
    ],
  ] as const
)
  .map(
    ([id, from, to, sent, known]) => `[[base]]
id = "${id}"
from_utc = "${from}"
to_utc = "${to}"
broadcast = { latitude_deg = ${sent}, at = "arp" }
known = { latitude_deg = ${known}, at = "mark" }
antenna_height_m = 1.6
sigma_horizontal_m = 0.008
sigma_vertical_m = 0.012
`,
  )
  .join('')}[acceptance]
max_pdop = 4
max_correction_age_s = 10
min_satellites = 6
max_tilt_deg = 30
min_epochs = 5
[tolerance]
horizontal_m = 0.05
vertical_m = 0.1
`;

/** What each base sends beyond what it is, degrees and metres: every fix has it too. */
const WRONG: Readonly<Record<'B1' | 'later' | 'B2', readonly [number, number, number]>> = {
  B1: [-1.005e-5, 1.3787e-5, 1.0292],
  later: [-9e-6, 1.1e-5, 0.8],
  B2: [1.948e-6, -2.977e-6, 0.1997],
};

interface Stand {
  readonly id: string;
  readonly code: string;
  readonly base: 'B1' | 'B2';
  readonly latitude: number;
  readonly longitude: number;
  readonly height: number;
  readonly pole: string;
  readonly tilt: number | null;
  readonly azimuth: number;
}

/** Digits as a receiver writes them. */
function fixed(value: number, decimals: number): string {
  return value.toFixed(decimals);
}

function standOf(random: SeededRandom, index: number, places: readonly (readonly [number, number])[]): Stand {
  const point = index % places.length;
  const [latitude, longitude] = places[point] ?? [0, 0];
  const name = NAMES[point] ?? `P-${String(point).padStart(3, '0')}`;
  const isTilted = random.next() < 0.25;
  return {
    id: name,
    code: CODES[random.index(CODES.length)] ?? '',
    base: random.next() < 0.3 ? 'B2' : 'B1',
    latitude,
    longitude,
    height: 1050 + point * 0.7,
    pole: ['2.000', '1.8', '', '2.15'][random.index(4)] ?? '',
    tilt: isTilted ? random.between(2, 32) : null,
    azimuth: random.between(-180, 360),
  };
}

function epochOf(random: SeededRandom, stand: Stand, second: number): readonly string[] {
  const isFloat = random.next() < 0.03;
  const spread = isFloat ? 0.15 : 0.004;
  const sigma = isFloat ? 0.15 : 0.003 + random.between(0, 0.002);
  const lean = stand.tilt === null ? 0 : stand.tilt + random.between(-0.2, 0.2);
  const tilt = stand.tilt === null ? '' : fixed(lean, 2);
  // The antenna over its point, on a pole that may lean.
  const above = (stand.pole === '' ? 2 : Number(stand.pole)) + 0.0712;
  const aside = above * Math.sin(lean * DEG);
  const [wrongLatitude, wrongLongitude, wrongHeight] =
    WRONG[stand.base === 'B1' && START_MS + second * 1000 >= Date.UTC(2026, 2, 4, 10) ? 'later' : stand.base];
  const [east, north] = [aside * Math.sin(stand.azimuth * DEG), aside * Math.cos(stand.azimuth * DEG)];
  return [
    stand.id,
    random.next() < 0.02 ? 'changed' : stand.code,
    new Date(START_MS + second * 1000).toISOString().replace('.000Z', 'Z'),
    fixed(stand.latitude + wrongLatitude + (north + random.normal() * spread) / 110_870, 9),
    fixed(stand.longitude + wrongLongitude + (east + random.normal() * spread) / 94_930, 9),
    fixed(stand.height + wrongHeight + above * Math.cos(lean * DEG) + random.normal() * 2 * spread, 4),
    isFloat ? 'float' : 'fixed',
    random.next() < 0.02 ? '14' : fixed(random.between(0.8, 2.5), 1),
    String(random.next() < 0.02 ? 5 : 9 + random.index(9)),
    fixed(random.next() < 0.02 ? 5.2 : random.between(1.2, 2.5), 2),
    fixed(sigma, 4),
    fixed(sigma * 1.1, 4),
    fixed(sigma * 2, 4),
    random.next() < 0.5 ? '' : '-0.25',
    stand.base,
    stand.pole,
    tilt,
    tilt === '' ? '' : fixed(stand.azimuth, 1),
    random.next() < 0.1 ? 'Zoë' : 'Ann',
    random.next() < 0.05 ? 'nach Regen,\t"naß"' : '',
    random.next() < 0.02 ? 'line one\nline; two, with "marks"' : '',
  ];
}

/** Cells that no reader may take, by column. */
const FAULTS: readonly (readonly [string, string])[] = [
  ['pdop', '1x95'],
  ['epoch_utc', '2026-03-04T25:00:00Z'],
  ['solution', 'perhaps'],
  ['satellites_used', '-3'],
  ['tilt_deg', '95'],
  ['latitude_deg', '95.2'],
  ['sigma_up_m', '-0.1'],
  ['correlation_en', '1.5'],
];

/**
 * A day of some 4,000 epochs on 200 stands, a third of the points stood on twice: names of every kind of character, codes that
 * change, cells of strangers, tilts, poles that change, epochs that the limits refuse; with faults also rows twice, and rows
 * that cannot be read.
 */
export function largeSurvey(seed: number, stands = 200, hasFaults = true): Survey {
  const random = seededRandom(seed);
  const places = Array.from(
    { length: Math.ceil(stands * 0.75) },
    () => [random.between(-31.75, -31.3), random.between(20.95, 21.7)] as const,
  );
  const rows: (readonly string[])[] = [];
  let second = 0;
  for (let index = 0; index < stands; index += 1) {
    const stand = standOf(random, index, places);
    second += 120;
    for (let count = 14 + random.index(12); count > 0; count -= 1) {
      second += 1;
      const row = epochOf(random, stand, second);
      const drawn = hasFaults ? random.next() : 0.5;
      const fault = drawn < 0.004 ? FAULTS[random.index(FAULTS.length)] : undefined;
      rows.push(fault === undefined ? row : row.map((cell, column) => (HEADER[column] === fault[0] ? fault[1] : cell)));
      if (drawn > 0.997) rows.push(row);
    }
  }
  return { header: HEADER, rows };
}
