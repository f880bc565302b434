// Hostile command lines: any option of any command, with values that fit and values that do not.
import { NUMBERS, TEXTS } from './mutate.mjs';

const SYSTEMS = [
  'EPSG:2049',
  'EPSG:32735',
  'EPSG:4326',
  'EPSG:3857',
  'EPSG:2193',
  'EPSG:27700',
  'EPSG:5041',
  'EPSG:0',
  'EPSG:-1',
  'EPSG:99999999999',
  'epsg:2049 ',
  'EPSG:../../x',
  'EPSG:__proto__',
  '+proj=tmerc +lat_0=0 +lon_0=21 +k=1 +axis=wsu +ellps=WGS84 +units=m +no_defs',
  '+proj=utm +zone=35 +south +datum=WGS84',
  '+proj=lcc +lat_1=90 +lat_2=-90',
  '+proj=merc +lat_ts=90',
  '+proj=stere +lat_0=90 +k=0',
  '+proj=tmerc +k=1e308 +ellps=WGS84',
  '+proj=tmerc +a=1 +b=1e300',
  '+proj=tmerc +a=-1',
  '+proj=tmerc +rf=1',
  '+proj=',
  '+',
  '+proj=__proto__',
  '+proj=longlat',
  '+proj=tmerc +lon_0=21 +ellps=constructor',
  '+proj=tmerc +lon_0=21 +ellps=WGS84 +units=toString',
  '+proj=tmerc +lon_0=21 +datum=__proto__',
  '+proj=toString +ellps=WGS84',
];
const PLACES = [
  '-31.5,21.4',
  '-31.5,21.4,1040',
  '90,0',
  '-90,180,0',
  '0,201',
  '1e308,1e308',
  '-31.5',
  ',',
  '-31.5,21.4,1e308',
  '25°S,21°E',
  '-31.5,21.4,-6378137',
  '91,0',
  'NaN,NaN',
  '-31.5;21.4',
];
const WORDS = [
  ...SYSTEMS,
  ...PLACES,
  ...NUMBERS,
  ...TEXTS,
  'fixes.csv',
  'session.toml',
  'log.nmea',
  'geoid.csv',
  '.',
  '/dev/null',
  'missing.csv',
  'point_id=code',
  'latitude_deg=3,longitude_deg=4',
  'egm96',
  'points.csv',
  'control.csv',
  'site-control.csv',
  'candidates.csv',
  'pairs.csv',
  'work.geojson',
  'shift.toml',
  'limits.toml',
  'EPSG:1505',
  'Africa',
  '0.1,0.2,0.3',
  '0.01,0.02',
  'QS-1',
  'QS-1,QS-2,QS-3',
  'gps=10x3',
  '1',
  '2',
  'A-1',
  'A-1@2',
];

/** One option of a command with a value, sound or not; outputs always go to files of their own. */
function optionWords(option, random) {
  const flag = option.flags.split(/[ ,]+/u).find((word) => word.startsWith('--')) ?? '--help';
  if (!/[<[]/u.test(option.flags)) return [flag];
  if (
    [
      '--output',
      '--problems',
      '--record',
      '--epochs',
      '--rejects',
      '--report',
      '--coverage',
      '--junit',
      '--timetable',
    ].includes(flag)
  )
    return [flag, `out-${flag.slice(2)}${random.pick(['', '.csv', '.json', '.geojson'])}`];
  if (option.choices !== undefined && random.chance(0.8)) return [flag, random.pick(option.choices)];
  if ((option.kind === 'number' || option.kind === 'count') && random.chance(0.9)) return [flag, random.pick(NUMBERS)];
  if (/system|from$|to$/u.test(flag) && random.chance(0.7)) return [flag, random.pick(SYSTEMS)];
  if (/at$|base$/u.test(flag) && random.chance(0.7)) return [flag, random.pick(PLACES)];
  return [flag, random.pick(WORDS)];
}

/** A few options of the command added to a line that works. */
export function withOptions(argv, spec, random, count) {
  if (spec.options.length === 0) return argv;
  const added = [];
  for (let i = 0; i < count; i += 1) added.push(...optionWords(random.pick(spec.options), random));
  return [...argv, ...added, '--force'];
}

/** A line made up from nothing but the names of commands and options. */
export function anyLine(commands, random) {
  const spec = random.pick(commands);
  const args = [];
  for (let i = random.index(3); i > 0; i -= 1) args.push(random.pick(WORDS));
  if (spec.name === 'describe-system') args.unshift(random.pick(SYSTEMS));
  else if (spec.name !== 'completion' && random.chance(0.7))
    args.unshift(
      random.pick(['points.csv', 'fixes.csv', 'work.geojson', 'fixes.geojson']),
      ...random
        .pick([[], ['--system', 'EPSG:2049'], ['--from', 'EPSG:2049', '--to', 'EPSG:4148']])
        .slice(0, spec.name === 'transform' ? 4 : 2),
    );
  return withOptions([spec.name, ...args], spec, random, random.index(4));
}
