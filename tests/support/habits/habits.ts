import { Buffer } from 'node:buffer';
import { always, dms, habit, height, id, latitude, longitude, windows1252 } from './habit.js';
import type { Cell, Column, Habit } from './habit.js';
import { geojsonHabit, nmeaHabit } from './documents.js';
import { gridPair, isoText, partsOf } from './truth.js';

const POSITION: readonly Column[] = [
  ['Point', id],
  ['Latitude', latitude],
  ['Longitude', longitude],
  ['Ellipsoidal height', height],
];
const time: Cell = ({ ms }) => isoText(ms);
const dayFirst =
  (mark: string, offset = 0): Cell =>
  ({ ms }) =>
    partsOf(ms, offset).slice(0, 3).reverse().join(mark);
const clock =
  (offset = 0): Cell =>
  ({ ms }) =>
    partsOf(ms, offset).slice(3).join(':');
const foot =
  (metres: number): Cell =>
  ({ heightM }) =>
    (heightM / metres).toFixed(3);
const angle =
  (axis: 'latitudeDeg' | 'longitudeDeg', write: (degrees: number) => string): Cell =>
  (row) =>
    write(row[axis]);
const both = (write: (degrees: number, letters: string) => string): readonly Column[] => [
  ['Point', id],
  ['Latitude', angle('latitudeDeg', (degrees) => write(degrees, 'NS'))],
  ['Longitude', angle('longitudeDeg', (degrees) => write(degrees, 'EW'))],
  ['Ellipsoidal height', height],
];
const letter = (degrees: number, letters: string): string => letters[degrees < 0 ? 1 : 0] ?? '';
const ZONE = 'columns.epoch_utc.zone=';
const UTM =
  (place: 0 | 1): Cell =>
  ({ latitudeDeg, longitudeDeg }) =>
    (gridPair('EPSG:32734', latitudeDeg, longitudeDeg)[place] ?? 0).toFixed(4);

/** Geocentric coordinates on the ellipsoid of WGS 84. */
function geocentric(axis: 0 | 1 | 2): Cell {
  return ({ latitudeDeg, longitudeDeg, heightM }) => {
    const [phi, lambda] = [(latitudeDeg * Math.PI) / 180, (longitudeDeg * Math.PI) / 180];
    const e2 = (2 - 1 / 298.257223563) / 298.257223563;
    const n = 6378137 / Math.sqrt(1 - e2 * Math.sin(phi) ** 2);
    const xyz = [
      (n + heightM) * Math.cos(phi) * Math.cos(lambda),
      (n + heightM) * Math.cos(phi) * Math.sin(lambda),
      (n * (1 - e2) + heightM) * Math.sin(phi),
    ];
    return (xyz[axis] ?? 0).toFixed(4);
  };
}

/** Thirty and more ways of writing the same fixes. */
export const HABITS: readonly Habit[] = [
  habit(
    'english with every column',
    {
      columns: [
        ...POSITION,
        ['Time UTC', time],
        ['Solution', always('Fixed')],
        ['Age', always(1.2)],
        ['Satellites', always(17)],
        ['PDOP', always(1.4)],
        ['Std E', always(0.008)],
        ['Std N', always(0.009)],
        ['Std U', always(0.015)],
        ['Base', always('B1')],
        ['Pole height', always(2)],
        ['Remark', always('')],
      ],
    },
    ['base.B1.broadcast={ latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1040, at = "arp" }'],
  ),
  habit(
    'german with decimal commas',
    {
      columns: [
        ['Punktnummer', id],
        ['Datum', dayFirst('.', 120)],
        ['Uhrzeit', clock(120)],
        ['Geogr. Breite', latitude],
        ['Geogr. Länge', longitude],
        ['Ellipsoidische Höhe [m]', height],
        ['Lösung', always('fest')],
        ['Anzahl Satelliten', always(15)],
      ],
      delimiter: ';',
      decimalComma: true,
    },
    [`${ZONE}+02:00`, 'columns.solution.words.fest=fixed'],
  ),
  habit(
    'french in an old encoding',
    {
      columns: [
        ['Matricule', id],
        [
          'Date et heure',
          ({ ms }) => `${partsOf(ms).slice(0, 3).reverse().join('/')} ${partsOf(ms).slice(3).join(':')}`,
        ],
        ['Latitude', latitude],
        ['Longitude', longitude],
        ['Hauteur ellipsoïdale (m)', height],
        ['Qualité', always('fixé')],
        ['Âge des corrections', always('0.8')],
      ],
      delimiter: ';',
      encode: windows1252,
    },
    [`${ZONE}Z`, 'columns.solution.words.fixé=fixed'],
  ),
  habit(
    'spanish',
    {
      columns: [
        ['Punto', id],
        ['Fecha', ({ ms }) => partsOf(ms).slice(0, 3).join('-')],
        ['Hora UTC', clock()],
        ['Latitud', latitude],
        ['Longitud', longitude],
        ['Altura elipsoidal', height],
        ['Estado', always('FIJO')],
      ],
      delimiter: '\t',
    },
    ['columns.solution.words.FIJO=fixed'],
  ),
  habit('portuguese', {
    columns: [
      ['Nome do ponto', id],
      ['Latitude', latitude],
      ['Longitude', longitude],
      ['Altura elipsoidal', height],
      ['Tipo de solução', always('4')],
      ['Precisão vertical', always('0.012')],
    ],
    delimiter: '|',
  }),
  habit(
    'italian with decimal commas',
    {
      columns: [
        ['Nome punto', id],
        ['Data ora', ({ ms }) => `${partsOf(ms).slice(0, 3).reverse().join('/')} ${partsOf(ms).slice(3).join(':')}`],
        ['Latitudine', latitude],
        ['Longitudine', longitude],
        ['Quota ellissoidica', height],
        ['Soluzione', always('FIX')],
      ],
      delimiter: ';',
      decimalComma: true,
    },
    [`${ZONE}Z`],
  ),
  habit('dutch', {
    columns: [
      ['Puntnummer', id],
      ['Tijd UTC', time],
      ['Breedtegraad', latitude],
      ['Lengtegraad', longitude],
      ['Ellipsoïdische hoogte', height],
      ['Oplossing', always('RTK Fixed')],
    ],
  }),
  habit('polish', {
    columns: [
      ['Nr punktu', id],
      ['Szerokość', latitude],
      ['Długość', longitude],
      ['Wysokość elipsoidalna', height],
      ['Rozwiązanie', always('fixed')],
    ],
    delimiter: ';',
    decimalComma: true,
  }),
  habit(
    'heights in international feet',
    { columns: [...POSITION.slice(0, 3), ['Ellipsoidal height (ft)', foot(0.3048)]] },
    ['columns.ellipsoidal_height_m.unit=ft'],
  ),
  habit('heights in survey feet', {
    columns: [...POSITION.slice(0, 3), ['Ellipsoidal height (US survey ft)', foot(1200 / 3937)]],
  }),
  habit(
    'a row of units',
    {
      columns: [...POSITION, ['HRMS', always(14.1)], ['VRMS', always(21)]],
      under: ',deg,deg,m,mm,mm\n',
    },
    ['columns.sigma_horizontal_m.means=drms'],
  ),
  habit('angles in gon', {
    columns: [
      ['Point', id],
      ['Latitude (gon)', ({ latitudeDeg }) => (latitudeDeg / 0.9).toFixed(9)],
      ['Longitude (gon)', ({ longitudeDeg }) => (longitudeDeg / 0.9).toFixed(9)],
      ['Ellipsoidal height', height],
    ],
  }),
  habit('angles in radians', {
    columns: [
      ['Point', id],
      ['Lat [rad]', ({ latitudeDeg }) => ((latitudeDeg * Math.PI) / 180).toFixed(11)],
      ['Lon [rad]', ({ longitudeDeg }) => ((longitudeDeg * Math.PI) / 180).toFixed(11)],
      ['Ellipsoidal height', height],
    ],
  }),
  habit('degrees minutes seconds with marks', {
    columns: both((degrees, letters) => {
      const { d, m, s } = dms(degrees);
      return `${d}°${m}'${s}"${letter(degrees, letters)}`;
    }),
  }),
  habit('degrees minutes seconds with blanks', {
    columns: both((degrees) => {
      const { sign, d, m, s } = dms(degrees);
      return `${sign}${d} ${m} ${s}`;
    }),
  }),
  habit('degrees minutes seconds run together', {
    columns: both((degrees) => {
      const { sign, d, m, s } = dms(degrees);
      return `${sign}${d}${m}${s}`;
    }),
  }),
  habit('degrees and minutes with a letter column', {
    columns: [
      ['Point', id],
      ['Latitude', ({ latitudeDeg }) => minutes(latitudeDeg)],
      ['N/S', ({ latitudeDeg }) => letter(latitudeDeg, 'NS')],
      ['Longitude', ({ longitudeDeg }) => minutes(longitudeDeg).padStart(12, '0')],
      ['E/W', ({ longitudeDeg }) => letter(longitudeDeg, 'EW')],
      ['Ellipsoidal height', height],
    ],
  }),
  habit('degrees minutes seconds after a point', {
    columns: [
      ['Point', id],
      ['Latitude (DMS)', angle('latitudeDeg', (degrees) => afterPoint(degrees))],
      ['Longitude (DMS)', angle('longitudeDeg', (degrees) => afterPoint(degrees))],
      ['Ellipsoidal height', height],
    ],
  }),
  habit('utf-16 with a mark', {
    columns: POSITION,
    delimiter: '\t',
    encode: (text) => Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')]),
  }),
  habit('utf-16 without a mark', { columns: POSITION, delimiter: ';', encode: (text) => Buffer.from(text, 'utf16le') }),
  habit('gps time', { columns: [...POSITION, ['GPS Time', ({ ms }) => isoText(ms + 18_000, 0, ' ', '')]] }),
  habit('gps week and seconds', {
    columns: [
      ...POSITION,
      ['GPS week', ({ ms }) => Math.floor((ms + 18_000 - Date.UTC(1980, 0, 6)) / 604_800_000)],
      ['Seconds of week', ({ ms }) => ((ms + 18_000 - Date.UTC(1980, 0, 6)) % 604_800_000) / 1000],
    ],
  }),
  habit('unix seconds', { columns: [...POSITION, ['Timestamp', ({ ms }) => ms / 1000]] }),
  habit(
    'a clock of twelve hours',
    {
      columns: [
        ...POSITION,
        ['Date', ({ ms }) => `${partsOf(ms)[1]}/${partsOf(ms)[2]}/${partsOf(ms)[0]}`],
        ['Local time', ({ ms }) => `${partsOf(ms, 120)[3]}:${partsOf(ms)[4]}:${partsOf(ms)[5]} AM`],
      ],
    },
    [`${ZONE}+02:00`],
  ),
  habit('local time in another zone', { columns: [...POSITION, ['Time', ({ ms }) => isoText(ms, -210, ' ', '')]] }, [
    `${ZONE}-03:30`,
  ]),
  habit('a month by name', {
    columns: [...POSITION, ['UTC time', ({ ms }) => `23-May-2026 ${partsOf(ms).slice(3).join(':')}`]],
  }),
  habit(
    'grid coordinates',
    {
      columns: [
        ['Name', id],
        ['Easting', UTM(0)],
        ['Northing', UTM(1)],
        ['Ellipsoidal height', height],
      ],
    },
    ['system.fixes=EPSG:32734'],
  ),
  habit(
    'grid coordinates of a south-orientated system',
    {
      columns: [
        ['Name', id],
        [
          'Westing',
          ({ latitudeDeg, longitudeDeg }) => (gridPair('EPSG:2049', latitudeDeg, longitudeDeg)[0] ?? 0).toFixed(4),
        ],
        [
          'Southing',
          ({ latitudeDeg, longitudeDeg }) => (gridPair('EPSG:2049', latitudeDeg, longitudeDeg)[1] ?? 0).toFixed(4),
        ],
        ['Ell height', height],
      ],
    },
    ['system.fixes=EPSG:2049', 'system.grid=EPSG:2049'],
  ),
  habit(
    'grid coordinates called x and y',
    {
      columns: [
        ['Name', id],
        ['Y', UTM(0)],
        ['X', UTM(1)],
        ['Z', height],
      ],
    },
    ['system.fixes=EPSG:32734', 'columns.easting_m=Y', 'columns.northing_m=X', 'columns.ellipsoidal_height_m=Z'],
  ),
  habit('geocentric coordinates', {
    columns: [
      ['Name', id],
      ['X', geocentric(0)],
      ['Y', geocentric(1)],
      ['Z', geocentric(2)],
    ],
  }),
  habit('a title and comments', {
    columns: POSITION,
    before: 'Survey of the pan\n# exported in the evening\n',
    delimiter: ';',
  }),
  habit('no header', { columns: POSITION, hasHeader: false }, [
    'columns.point_id=1',
    'columns.latitude_deg=2',
    'columns.longitude_deg=3',
    'columns.ellipsoidal_height_m=4',
  ]),
  habit('a bare height', { columns: [...POSITION.slice(0, 3), ['Height', height]] }, [
    'columns.ellipsoidal_height_m=Height',
  ]),
  habit(
    'day and month that could be exchanged',
    {
      columns: [...POSITION, ['UTC', ({ ms }) => `06/05/2026 ${partsOf(ms).slice(3).join(':')}`]],
    },
    ['columns.epoch_utc.form=DD/MM/YYYY HH:mm:ss'],
  ),
  habit('words of its own', { columns: [...POSITION, ['Status', always('NARROW INT')]] }, [
    'columns.solution.words.NARROW INT=fixed',
  ]),
  geojsonHabit(),
  nmeaHabit(),
];

function minutes(degrees: number): string {
  const size = Math.abs(degrees);
  const whole = Math.floor(size);
  return `${String(whole)}${((size - whole) * 60).toFixed(7).padStart(10, '0')}`;
}

function afterPoint(degrees: number): string {
  const { sign, d, m, s } = dms(degrees);
  return `${sign}${d}.${m}${s.replace('.', '')}`;
}
