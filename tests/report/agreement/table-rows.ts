import { BESIDE, number, parts, words } from '../../support/read-page.js';
import type { CellCheck, DataRow } from '../../support/read-page.js';
import { textAt } from '../../support/read-page.js';
import type { PageName, PageRun } from '../../support/page-runs.js';

/** A table of a page, and the data of the same run that it has to agree with. */
export interface TableRow {
  readonly page: PageName;
  readonly name: string;
  readonly data: (run: PageRun) => readonly DataRow[];
  /** Heads whose words find a row. */
  readonly keys: readonly string[];
  readonly checks: Readonly<Record<string, CellCheck>>;
}

const of = (run: PageRun, ...path: readonly string[]): readonly DataRow[] => {
  let found: unknown = run.json;
  for (const name of path) found = (found as Record<string, unknown>)[name];
  return found as readonly DataRow[];
};
const all = ({ rows }: PageRun): readonly DataRow[] => rows;
const ROLES = (role: string) => (run: PageRun) => run.rows.filter((row) => row['role'] === role);
const oneOf = (name: string, said: Readonly<Record<string, string>>): CellCheck =>
  words(name, (text) => said[text] ?? text);
/** Reads a cell by its first words; the rest is said of them. */
const begins =
  (name: string): CellCheck =>
  (cell, row) =>
    cell.split(/[:,] /u)[0] === textAt(row, name) ? null : textAt(row, name);
const yes = (word: string, none: string, name: string): CellCheck =>
  oneOf(name, { yes: word, no: none, true: word, false: none });
const three = (stem: string, end: string, factor = 1): CellCheck =>
  parts(...['x', 'y', 'z'].map((axis) => number(`${stem}_${axis}${end}`, factor)));
const enh = (stem: string, end: string): CellCheck =>
  parts(...['east', 'north', 'height'].map((axis) => number(`${stem}_${axis}${end}`)));
const dateOf = (name: string, from: number, to: number): CellCheck =>
  words(name, (text) => text.slice(from, to).replace('T', ', '));
/** An instant of a stream as people write it; a time of the week where no date is known. */
const instant = (name: string): CellCheck =>
  words(name, (text) => text.replace(/^(\d{4}-\d{2}-\d{2})T(.*)Z$/u, '$1, $2 UTC'));
const dash = (name: string): CellCheck => words(name, (text) => (text === '' ? '–' : text));

const REDUCED: Readonly<Record<string, CellCheck>> = {
  Point: words('point_id'),
  'Occ.': words('occupation'),
  Verdict: words('verdict'),
  'Y, westing, m': number('westing_m'),
  'X, southing, m': number('southing_m'),
  'H, m, orthometric': number('orthometric_height_m'),
  Base: words('base_id'),
  'Baseline, km': number('baseline_m', 0.001),
  '95 %, plan / height, m': parts(number('circle_95_m'), number('vertical_95_m')),
  'Epochs, used / refused': parts(number('epochs_used'), number('epochs_rejected')),
  Reasons: words('reasons'),
};

const SITE = (fourth: string, check: CellCheck): Readonly<Record<string, CellCheck>> => ({
  Point: words('point_id'),
  'East, m': number('residual_east_m'),
  'North, m': number('residual_north_m'),
  'Height, m': number('residual_height_m'),
  [fourth]: check,
  Verdict: words('verdict'),
  Reasons: words('reasons'),
});
const FITTED = SITE('Left out, east / north / height, m', enh('left_out', '_m'));
const KEPT_OUT = SITE('Sigma, east / north / height, m', enh('sigma', '_m'));
/** Of a surface the share of its own error that a benchmark takes up: what the fit leaves of it against what is off where it is left out. */
const takenUp: CellCheck = (cell, row) => {
  const shown = Number((cell.split(' / ')[2] ?? '').replace('\u2212', '-'));
  const [fitted, alone] = [textAt(row, 'residual_height_m'), textAt(row, 'left_out_height_m')].map(Number);
  if (fitted === undefined || alone === undefined || alone === 0) return null;
  const share = Math.abs(fitted / alone);
  // The file has tenths of a millimetre, the page three decimals.
  const most = (0.00005 * (1 + share)) / Math.abs(alone) + 0.0006;
  return Math.abs(shown - (1 - share)) <= most ? null : (1 - share).toFixed(3);
};
const LEVERAGE: Readonly<Record<string, CellCheck>> = {
  Point: words('point_id'),
  'Leverage, east / north / height': (cell, row) =>
    enh('one', '')(
      cell,
      Object.fromEntries(
        ['east', 'north', 'height'].map((axis) => {
          const text = textAt(row, `redundancy_${axis}`);
          return [`one_${axis}`, text === '' ? '' : (1 - Number(text)).toFixed(3)];
        }),
      ),
    ),
  'Test, Baarda or Pope': enh('baarda', ''),
  'Smallest blunder seen, m': enh('detectable', '_m'),
};

/** What is told of each station of a stream, with its number. */
const ofStations = (run: PageRun, pick: (station: DataRow) => readonly DataRow[]): readonly DataRow[] =>
  of(run, 'stations').flatMap((station) => pick(station).map((row) => ({ station_id: station['station_id'], ...row })));
const positionsSent = (run: PageRun): readonly DataRow[] =>
  ofStations(run, (station) => station['positions'] as readonly DataRow[]);

/** What the page calls them. */
const PROJECTIONS: Readonly<Record<string, string>> = {
  'transverse-mercator': 'Transverse Mercator',
  lambert: 'Lambert conic',
  'oblique-mercator': 'Oblique Mercator',
};

const TABLES: readonly TableRow[] = [
  { page: 'reduce', name: 'Points.', data: all, keys: ['Point', 'Occ.'], checks: REDUCED },
  { page: 'job', name: 'Points.', data: all, keys: ['Point', 'Occ.'], checks: REDUCED },
  {
    page: 'check',
    name: 'Comparisons.',
    data: all,
    keys: ['Point', 'Occ.', 'Check', 'Against'],
    checks: {
      Point: words('point_id'),
      'Occ.': words('occupation'),
      Check: oneOf('check', { 'base-pair': 'two bases' }),
      Verdict: begins('verdict'),
      Against: words('against'),
      'Y, m, westing': number('difference_westing_m'),
      'X, m, southing': number('difference_southing_m'),
      'Height, m': number('difference_height_m'),
      'Limits, plan / height, m': parts(number('horizontal_limit_m'), number('vertical_limit_m')),
      'Distance, km': number('distance_m', 0.001),
      // By their numbers; tests/report/check/check-page.test.ts reads them with the table that says them.
      'Reasons, numbers below': BESIDE,
    },
  },
  {
    page: 'check',
    name: 'What the standard lets one say.',
    data: (run) => of(run, 'statements'),
    keys: ['Of what'],
    checks: { 'Of what': words('what'), Statement: words('text'), Verdict: begins('verdict') },
  },
  {
    page: 'check',
    name: 'Occupations that disagree.',
    data: (run) => of(run, 'repeats'),
    keys: ['Point'],
    checks: {
      Point: words('point_id'),
      'Plan, mm': number('plan_m', 1000),
      'Height, mm': number('height_m', 1000),
      Cause: BESIDE,
      'Stands alone': BESIDE,
    },
  },
  {
    page: 'register',
    name: 'Register.',
    data: all,
    keys: ['Mark or base', 'Axis'],
    checks: {
      'Mark or base': (cell, row) => {
        const wanted = `${textAt(row, 'what') === 'base' ? 'base ' : ''}${textAt(row, 'point_id')}`;
        return cell === wanted ? null : wanted;
      },
      Axis: words('axis'),
      'Set-ups': number('set_ups'),
      'Mean, mm': number('mean_m', 1000),
      'Spread, mm': number('spread_m', 1000),
      'Trend, mm a day': number('trend_m_per_day', 1000),
      'Trend, 95 %, mm a day': (cell, row) =>
        parts(number('trend_low_95_m_per_day', 1000), number('trend_high_95_m_per_day', 1000))(
          cell === '–' ? '– / –' : cell.replace(' to ', ' / '),
          row,
        ),
      'Sums, up / down': parts(number('upper_sum'), number('lower_sum')),
      'Moved from': dash('moved_from_day'),
      'By, mm': number('moved_m', 1000),
      Verdict: words('verdict'),
      Reasons: words('reasons'),
    },
  },
  {
    page: 'plan',
    name: 'Places.',
    data: all,
    keys: ['Place'],
    checks: {
      Place: words('point_id'),
      Base: words('base_id'),
      'Baseline, km': number('baseline_m', 0.001),
      'Plan, 95 %, m': number('circle_95_normal_m'),
      'Tolerance, m': number('tolerance_horizontal_m'),
      'Height, 95 %, m': number('vertical_95_normal_m'),
      'Tolerance, m #2': number('tolerance_vertical_m'),
      Verdict: words('verdict'),
      'What would help': oneOf('way_out', {
        none: '',
        repeat: 'repeats apart in time',
      }),
    },
  },
  {
    page: 'plan',
    name: 'Candidates.',
    data: (run) => of(run, 'siting', 'ranking'),
    keys: ['Candidate'],
    checks: {
      Candidate: words('point_id'),
      Chosen: BESIDE,
      'Worst share': number('worst_ratio'),
      'Farthest, km': number('worst_distance_m', 0.001),
      'Served, of 8': number('served'),
      'Decided by': words('worst_point_ids'),
      'Mobile network': yes('yes', 'no', 'cellular'),
      Sky: number('sky_score'),
      Cost: number('cost'),
    },
  },
  {
    page: 'plan',
    name: 'Usable ranges.',
    data: (run) =>
      of(run, 'ranges').map((row) => ({
        ...row,
        ...Object.fromEntries(
          ['quiet', 'normal', 'active'].map((name) => [`range_${name}_m`, (row[name] as DataRow)['range_m']]),
        ),
      })),
    keys: ['Plan, tolerance, m', 'Height, tolerance, m'],
    checks: {
      Class: BESIDE,
      'Plan, tolerance, m': number('tolerance_horizontal_m'),
      'Height, tolerance, m': number('tolerance_vertical_m'),
      Places: number('points'),
      ...Object.fromEntries(
        ['quiet', 'normal', 'active'].map((name) => [
          `${name}, km`,
          (cell: string, row: DataRow) => number(`range_${name}_m`, 0.001)(cell.split(' ')[0] ?? '', row),
        ]),
      ),
    },
  },
  {
    page: 'plan',
    name: 'Timetable.',
    data: (run) => run.beside('timetable'),
    keys: ['Place', 'Arrive, UTC', 'What'],
    checks: {
      'Arrive, UTC': dateOf('arrive_utc', 11, 16),
      'Start, UTC': dateOf('start_utc', 11, 16),
      'End, UTC': dateOf('end_utc', 11, 16),
      Place: words('point_id'),
      What: words('role'),
      'Occ.': words('occupation'),
      'Drive, km': number('drive_km'),
      Base: words('base_id'),
    },
  },
  {
    page: 'plan',
    name: 'Bases.',
    data: (run) => of(run, 'bases').filter(({ base_id: id }) => run.rows.some((row) => row['base_id'] === id)),
    keys: ['Base'],
    checks: {
      Base: words('base_id'),
      'Latitude, °': number('latitude_deg'),
      'Longitude, °': number('longitude_deg'),
      'h, m, ellipsoidal': number('ellipsoidal_height_m'),
      Places: BESIDE,
      Outside: BESIDE,
      'Farthest, km': BESIDE,
    },
  },
  { page: 'site', name: 'Fitted.', data: ROLES('fit'), keys: ['Point'], checks: FITTED },
  { page: 'site', name: 'Kept out to check.', data: ROLES('check'), keys: ['Point'], checks: KEPT_OUT },
  { page: 'site', name: 'Leverage and what can be seen.', data: ROLES('fit'), keys: ['Point'], checks: LEVERAGE },
  { page: 'surface', name: 'Fitted.', data: ROLES('fit'), keys: ['Point'], checks: FITTED },
  { page: 'surface', name: 'Kept out to check.', data: ROLES('check'), keys: ['Point'], checks: KEPT_OUT },
  {
    page: 'surface',
    name: 'Leverage and what can be seen.',
    data: ROLES('fit'),
    keys: ['Point'],
    checks: { ...LEVERAGE, 'Leverage, east / north / height': takenUp },
  },
  {
    page: 'network',
    name: 'Stations.',
    data: all,
    keys: ['Station'],
    checks: {
      Station: words('point_id'),
      Verdict: words('verdict'),
      Checked: (cell, row) =>
        cell.startsWith('yes') === (textAt(row, 'checked') === 'yes') ? null : textAt(row, 'checked'),
      'Circle, 95 %, mm': number('circle_95_m', 1000),
      'Height, 95 %, mm': number('vertical_95_m', 1000),
      'Nearest control': dash('nearest_control'),
      'Relative, circle / height, mm': parts(
        number('relative_circle_95_m', 1000),
        number('relative_vertical_95_m', 1000),
      ),
      Redundancy: number('redundancy'),
      'Largest w': number('largest_w'),
      'Could hide, error / move, mm': parts(
        number('minimal_detectable_bias_m', 1000),
        number('external_reliability_m', 1000),
      ),
    },
  },
  {
    page: 'network',
    name: 'Relative accuracy of the pairs asked for.',
    data: (run) => of(run, 'pairs'),
    keys: ['From', 'To'],
    checks: {
      From: words('from_id'),
      To: words('to_id'),
      'Distance, m': number('distance_m'),
      'Ellipse, major / minor, mm': parts(
        number('relative_ellipse_major_95_m', 1000),
        number('relative_ellipse_minor_95_m', 1000),
      ),
      'Circle, mm': number('relative_circle_95_m', 1000),
      'Height, mm': number('relative_vertical_95_m', 1000),
    },
  },
  {
    page: 'network',
    name: 'Control.',
    data: (run) => of(run, 'control'),
    keys: ['Point'],
    checks: {
      Point: words('point_id'),
      Agrees: oneOf('verdict', { within: 'yes', review: 'not tested' }),
      Holds: (cell, row) => {
        const wanted = row['holds'] === true ? textAt(row, 'held') : `no (${textAt(row, 'held')})`;
        return cell === wanted ? null : wanted;
      },
      'East, mm': number('difference_east_m', 1000),
      'North, mm': number('difference_north_m', 1000),
      'Up, mm': number('difference_up_m', 1000),
      Test: number('test'),
      Limit: number('limit'),
      Reasons: words('reasons'),
    },
  },
  {
    page: 'network',
    name: 'Observations.',
    data: (run) =>
      run.beside('observations').map((row) => ({
        ...row,
        redundancy: ['x', 'y', 'z'].reduce((sum, axis) => sum + Number(row[`redundancy_${axis}`]), 0).toFixed(4),
        where: `${textAt(row, 'source').split('/').at(-1) ?? ''}:${textAt(row, 'line')}`,
      })),
    keys: ['From', 'To', 'Where'],
    checks: {
      From: words('from_id'),
      To: words('to_id'),
      Kind: words('kind'),
      Verdict: begins('verdict'),
      'Residual, mm': three('residual', '_m', 1000),
      Redundancy: number('redundancy'),
      w: three('w', ''),
      'Others say, more, mm': three('estimated_bias', '_m', 1000),
      Where: words('where'),
    },
  },
  {
    page: 'network',
    name: 'Bases.',
    data: (run) =>
      of(run, 'bases').map((base) => (base['rejected'] === 'yes' ? { ...base, checked: 'rejected' } : base)),
    keys: ['Base'],
    checks: {
      Base: words('point_id'),
      At: words('at'),
      latitude_deg: number('latitude_deg'),
      longitude_deg: number('longitude_deg'),
      ellipsoidal_height_m: number('ellipsoidal_height_m'),
      'Sigma, horizontal / vertical, m': parts(number('sigma_horizontal_m'), number('sigma_vertical_m')),
      Checked: oneOf('checked', { yes: 'yes', no: 'unchecked', rejected: 'rejected' }),
    },
  },
  {
    page: 'network',
    name: 'Shared errors.',
    data: (run) => of(run, 'parameters'),
    keys: ['Of', 'Component'],
    checks: {
      Of: words('name'),
      Component: words('component'),
      'Stated, one sigma': number('stated_sigma_m', 1000),
      Found: number('value_m', 1000),
      Sigma: number('sigma_m', 1000),
    },
  },
  {
    page: 'link',
    name: 'Messages.',
    data: all,
    keys: ['Station', 'Message'],
    checks: {
      Station: words('station_id'),
      Message: words('number'),
      Count: number('count'),
      Bytes: number('bytes'),
      'Share, %': number('share', 100),
      'Interval, s, mean': number('mean_interval_s'),
      'Announced, s': number('announced_interval_s'),
      'Longest, s': number('longest_gap_s'),
      Gaps: BESIDE,
      'Padding, bytes': number('padding_bytes'),
    },
  },
  {
    page: 'link',
    name: 'Outages.',
    data: (run) => run.beside('outages'),
    keys: ['From, UTC'],
    checks: {
      'No.': BESIDE,
      'From, UTC': dateOf('from_utc', 0, 19),
      'Length, s': number('duration_s'),
      'Age to, s': number('largest_age_s'),
      'Put down to': BESIDE,
      Points: words('point_ids'),
      'Latitude, °': number('latitude_deg'),
      'Longitude, °': number('longitude_deg'),
    },
  },
  {
    page: 'link',
    name: 'Bases against the stream.',
    data: (run) => of(run, 'broadcasts'),
    keys: ['Base', 'Sent from'],
    checks: {
      Base: words('base_id'),
      Station: words('station_id'),
      'Sent from': instant('first'),
      'East, m, antenna': number('arp_difference_east_m'),
      'North, m, antenna': number('arp_difference_north_m'),
      'Up, m, antenna': number('arp_difference_up_m'),
      'East, m, mark': number('mark_difference_east_m'),
      'North, m, mark': number('mark_difference_north_m'),
      'Up, m, mark': number('mark_difference_up_m'),
      'Height sent, m': number('antenna_height_sent_m'),
      'Height, session, m': number('antenna_height_session_m'),
      Verdict: words('verdict'),
    },
  },
  {
    page: 'link',
    name: 'What age cost each point.',
    data: (run) => of(run, 'link', 'cost', 'points'),
    keys: ['Point'],
    checks: {
      Point: words('point_id'),
      Epochs: number('epochs'),
      Kept: number('kept'),
      'Too old': number('lost'),
      'Mean age, s': number('mean_age_s'),
      'Plan, mm, fresh': number('sigma_horizontal_m', 1000),
      'Plan, mm, as it was': number('sigma_horizontal_aged_m', 1000),
      'Height, mm, fresh': number('sigma_vertical_m', 1000),
      'Height, mm, as it was': number('sigma_vertical_aged_m', 1000),
      Outcome: BESIDE,
    },
  },
  {
    page: 'link',
    name: 'Availability by the hour.',
    data: (run) =>
      of(run, 'link', 'hours').map((row) => ({
        ...row,
        ...Object.fromEntries(
          (row['within'] as readonly DataRow[]).flatMap((one) =>
            ['share', 'low', 'high'].map((name) => [`${name}_${textAt(one, 'age_s')}`, one[name]]),
          ),
        ),
      })),
    keys: ['From, UTC'],
    checks: {
      'From, UTC': dateOf('from', 0, 16),
      Epochs: number('epochs'),
      ...Object.fromEntries(
        ['2', '5', '10'].map((age) => [
          `At most ${age} s, %`,
          (cell: string, row: DataRow) =>
            parts(
              number(`share_${age}`, 100),
              number(`low_${age}`, 100),
              number(`high_${age}`, 100),
            )(cell.replace(' (', ' / ').replace(' to ', ' / ').replace(')', ''), row),
        ]),
      ),
    },
  },
  {
    page: 'design',
    name: 'Points',
    data: all,
    keys: ['Point'],
    checks: {
      Point: words('point_id'),
      'Easting, m': number('easting_m'),
      'Northing, m': number('northing_m'),
      'Height, m': number('height_m'),
      'Distortion, ppm': number('distortion_ppm'),
      'In 100 m, mm': number('distortion_mm_per_100m'),
    },
  },
  {
    page: 'design',
    name: 'Projections tried.',
    data: (run) => of(run, 'candidates'),
    keys: ['Projection'],
    checks: {
      Projection: words('method', (text) => PROJECTIONS[text] ?? `no name of ${text}`),
      'Distortion, ppm': number('distortion_ppm'),
    },
  },
  {
    page: 'sky',
    name: 'Windows.',
    data: (run) => run.beside('windows'),
    keys: ['Site', 'From, UTC'],
    checks: {
      Site: words('point_id'),
      'From, UTC': dateOf('from_utc', 0, 16),
      'To, UTC': dateOf('to_utc', 0, 16),
      'Length, min': number('minutes'),
      Limits: oneOf('verdict', { within: 'met', no: 'missed' }),
      'Fewest, satellites': number('fewest_satellites'),
      'Largest, PDOP': number('largest_pdop'),
      Misses: words('reasons', (text) =>
        text.replace('sky-high-pdop', 'PDOP too high').replace('sky-few-satellites', 'too few satellites'),
      ),
    },
  },
  {
    page: 'sky',
    name: 'Every site.',
    data: (run) =>
      of(run, 'sites').map((row) => {
        const own = of(run, 'epochs').filter(({ point_id: id }) => id === row['point_id']);
        const extremes = (name: string): readonly number[] => {
          const values = own.map((epoch) => Number(epoch[name]));
          return [Math.min(...values), Math.max(...values)];
        };
        const [fewest, most] = extremes('satellites');
        const [least, largest] = extremes('pdop');
        return { ...row, fewest, most, least, largest };
      }),
    keys: ['Site'],
    checks: {
      Site: words('point_id'),
      Answer: words('verdict'),
      'Within, h': number('hours_within'),
      'Fewest, satellites': number('fewest'),
      'Most, satellites': number('most'),
      'Least, PDOP': number('least'),
      'Largest, PDOP': number('largest'),
      'Skyline, places': number('mask_places'),
    },
  },
  {
    page: 'link',
    name: 'Coordinates sent.',
    data: positionsSent,
    keys: ['Station', 'From'],
    checks: {
      Station: words('station_id'),
      From: instant('first'),
      To: instant('last'),
      'X, m': number('x_m'),
      'Y, m': number('y_m'),
      'Z, m': number('z_m'),
      'Antenna height, m': number('antenna_height_m'),
      'Said of it': BESIDE,
    },
  },
  {
    page: 'link',
    name: 'The same in latitude and longitude.',
    data: positionsSent,
    keys: ['Station', 'From'],
    checks: {
      Station: words('station_id'),
      From: instant('first'),
      'Latitude, °': number('latitude_deg'),
      'Longitude, °': number('longitude_deg'),
      'h, antenna, m': number('ellipsoidal_height_m'),
      'h, mark, m': number('mark_ellipsoidal_height_m'),
    },
  },
  {
    page: 'link',
    name: 'Antennas and receivers',
    data: (run) => ofStations(run, (station) => station['antennas'] as readonly DataRow[]),
    keys: ['Station', 'From'],
    checks: {
      Station: words('station_id'),
      From: instant('first'),
      Antenna: words('antenna'),
      Serial: words('antenna_serial'),
      'Set-up': words('setup_id'),
      Receiver: words('receiver'),
      Firmware: words('firmware'),
      'Serial #2': words('receiver_serial'),
    },
  },
  {
    page: 'link',
    name: 'Gaps in the observations.',
    data: (run) => ofStations(run, (station) => (station['epochs'] as DataRow)['gaps'] as readonly DataRow[]),
    keys: ['Station', 'From'],
    checks: {
      Station: words('station_id'),
      From: instant('from'),
      To: instant('to'),
      'Length, s': number('seconds'),
    },
  },
  {
    page: 'link',
    name: 'Constellations',
    data: (run) => ofStations(run, (station) => station['constellations'] as readonly DataRow[]),
    keys: ['Station', 'Constellation'],
    checks: {
      Station: words('station_id'),
      Constellation: words('constellation'),
      Messages: words('numbers'),
      'Satellites, mean': number('mean_satellites'),
      'Satellites, most': number('most_satellites'),
      Signals: words('signals'),
    },
  },
];

/** Tables whose heads are the names of the columns of the data file. */
export const AS_THEY_STAND: readonly (readonly [PageName, string, readonly string[]])[] = [
  ['carried', 'Points.', ['point_id']],
  ['lines', 'Distances and heights.', ['from_id', 'to_id']],
  ['lines', 'Directions.', ['from_id', 'to_id']],
  ['lines', 'Corrections and factors.', ['from_id', 'to_id']],
  ['polar', 'Points set out.', ['point_id']],
  ['area', 'Areas of closed figures.', ['figure']],
  ['area', 'Boundaries and heights.', ['figure']],
];

/** No file of the run has these figures; their text is kept, tests/report/page-text.test.ts. */
const REGRESSION = 'regression: tests/report/page-text.test.ts';

/** Tables of which no data file has the rows: what they are made of, or where they are held. */
export const HELD_ELSEWHERE: Readonly<Record<string, string>> = {
  'Files read.': 'every page: name, bytes and SHA-256 against the files, in this test',
  'What the reasons mean.': 'every page: the codes of the data, in this test',
  'Reasons.': 'every page: the codes of the data, in this test',
  'sets: What the standard lets one say.':
    'the tests of the standard, tests/report/check/sets-figure.test.ts and the published example of the method',
  'reduce: Outages.': 'the same section as that of the stream, which is held here',
  'reduce: Availability by the hour.': 'the same section as that of the stream, which is held here',
  'reduce: What age cost each point.': 'the same section as that of the stream, which is held here',
  'job: The link day by day.': REGRESSION,
  'Reasons of refusal.': REGRESSION,
  'reduce: Bases.': REGRESSION,
  'job: Bases.': REGRESSION,
  'Systems and settings.': REGRESSION,
  'job: Repeat occupations.': REGRESSION,
  'check: Control residuals.': REGRESSION,
  'check: What would do that.': 'tests/report/check/check-page.test.ts',
  'plan: Data budget.': 'tests/report/plan/plan-page.test.ts',
  'Parameters.': REGRESSION,
  'surface: Trends.': REGRESSION,
  'surface: What hangs on the signal.': REGRESSION,
  'surface: Each benchmark left out.': 'tests/report/site/site-page.test.ts',
  'carried: Steps.': REGRESSION,
  'sky: Satellites.': REGRESSION,
  'link: What to look at.': REGRESSION,
  'Columns of the data file.': 'join: the header of the data file, tests/report/join/join-page.test.ts',
};

export { TABLES };
