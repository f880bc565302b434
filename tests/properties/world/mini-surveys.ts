import { gridOf } from '../../core/grid/systems.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';

/** Latitude, longitude (degrees) and height above the ellipsoid (metres), as they are written. */
export type Place = readonly [latitude: string, longitude: string, height: string];

/** A small survey: one base that sent a wrong coordinate, and rovers on poles that may lean. */
export interface MiniSurvey {
  readonly system: string;
  /** Reference point of the base antenna as sent, and the ground mark as known. */
  readonly sent: Place;
  readonly known: Place;
  readonly baseAntennaM: number;
  readonly slant: { readonly lengthM: string; readonly radiusM: string; readonly offsetM: string } | null;
  /** Antenna phase centre above its reference point, along the pole. */
  readonly phaseCentreM: string;
  readonly azimuthIs: 'top-from-tip' | 'tip-from-top';
  readonly rovers: readonly Rover[];
}

export interface Rover {
  readonly fix: Place;
  readonly poleM: string;
  readonly tiltDeg: string;
  readonly azimuthDeg: string;
}

/** Systems of every kind of projection, unit and orientation, and where a base may stand: latitudes, longitudes; null is the area of use. */
export const SYSTEMS: readonly (readonly [code: string, box: readonly [number, number, number, number] | null])[] = [
  // Transverse Mercator, northern, southern and south-orientated, at the 180th meridian from both sides.
  ['EPSG:2049', null],
  ['EPSG:2053', null],
  ['EPSG:32633', null],
  ['EPSG:32735', null],
  ['EPSG:32601', [-1, 70, -180, -179.7]],
  ['EPSG:32660', [1, 70, 179.7, 180]],
  ['EPSG:32701', [-70, -1, -180, -179.7]],
  ['EPSG:32760', [-70, -1, 179.7, 180]],
  ['EPSG:2193', null],
  ['EPSG:27700', null],
  ['EPSG:5880', null],
  // Feet of two lengths, and yards and links of their own.
  ['EPSG:2230', null],
  ['EPSG:2222', null],
  ['EPSG:2136', null],
  ['EPSG:30200', null],
  // Lambert conformal, Albers, azimuthal equal area, Mercator.
  ['EPSG:2154', null],
  ['EPSG:24200', null],
  ['EPSG:3448', null],
  ['EPSG:3005', null],
  ['EPSG:3035', null],
  ['EPSG:3395', [-70, 70, -180, 180]],
  // Oblique, double, Cassini, polynomial.
  ['EPSG:2056', null],
  ['EPSG:28992', null],
  ['EPSG:29873', null],
  ['EPSG:5513', null],
  ['EPSG:28191', null],
  ['EPSG:27200', null],
  // Polar, to the pole itself, at every longitude.
  ['EPSG:32661', [84, 89.999, -180, 180]],
  ['EPSG:32761', [-89.999, -80, -180, 180]],
  ['EPSG:5041', [89.9, 90, -180, 180]],
  ['EPSG:5042', [-90, -89.9, -180, 180]],
  ['EPSG:3031', [-80, -62, -180, 180]],
  ['EPSG:3413', [62, 85, -180, 180]],
];
const DEG = Math.PI / 180;
const EARTH_M = 6_371_000;

/** As a file has it: a longitude beyond 180° counts on from there in one survey of four. */
function place(latitude: number, longitude: number, height: number, countsOn = false): Place {
  const turned = ((((longitude + 180) % 360) + 360) % 360) - 180;
  return [latitude.toFixed(10), (countsOn && turned < 0 ? turned + 360 : turned).toFixed(10), height.toFixed(4)];
}

/** The place at an azimuth and distance on a sphere: near enough to say where a rover stands. */
function away(latitude: number, longitude: number, azimuth: number, metres: number): readonly [number, number] {
  const [phi, turn, delta] = [latitude * DEG, azimuth * DEG, metres / EARTH_M];
  const sine = Math.sin(phi) * Math.cos(delta) + Math.cos(phi) * Math.sin(delta) * Math.cos(turn);
  const east = Math.atan2(Math.sin(turn) * Math.sin(delta) * Math.cos(phi), Math.cos(delta) - Math.sin(phi) * sine);
  return [Math.asin(Math.min(1, Math.max(-1, sine))) / DEG, longitude + east / DEG];
}

function roverOf(
  random: SeededRandom,
  from: readonly [number, number],
  countsOn: boolean,
  atPole: number | null,
): Rover {
  const [latitude, longitude] = away(...from, random.between(0, 360), 60_000 * random.next() ** 2);
  const leans = random.next() < 0.6;
  return {
    fix:
      atPole === null
        ? place(latitude, longitude, random.between(-100, 3000), countsOn)
        : place(atPole, random.between(-180, 180), 12.5),
    poleM: random.between(1.2, 3).toFixed(3),
    tiltDeg: leans ? random.between(0.5, 40).toFixed(2) : '',
    azimuthDeg: leans ? random.between(-180, 360).toFixed(2) : '',
  };
}

/** As many surveys as are asked for, each system in turn. */
export function miniSurveys(count: number, seed: number): readonly MiniSurvey[] {
  const random = seededRandom(seed);
  const boxes = new Map(SYSTEMS.map(([code, box]) => [code, box ?? areaOf(code)]));
  return Array.from({ length: count }, (_, index) => {
    const system = SYSTEMS[index % SYSTEMS.length]?.[0] ?? '';
    const [south, north, west, east] = boxes.get(system) ?? [0, 0, 0, 0];
    const [latitude, longitude, height] = [
      random.between(south, north),
      random.between(west, east),
      random.between(0, 2000),
    ];
    const countsOn = random.next() < 0.25;
    const sentAt = away(latitude, longitude, random.between(0, 360), random.between(0, 4));
    const slant =
      random.next() < 0.3
        ? {
            lengthM: random.between(1.4, 1.9).toFixed(4),
            radiusM: '0.0892',
            offsetM: random.between(-0.02, 0.05).toFixed(4),
          }
        : null;
    const vertical = random.between(0.3, 1.8).toFixed(4);
    const baseAntennaM =
      slant === null
        ? Number(vertical)
        : Math.sqrt(Number(slant.lengthM) ** 2 - Number(slant.radiusM) ** 2) - Number(slant.offsetM);
    const pole = system === 'EPSG:5041' ? 90 : system === 'EPSG:5042' ? -90 : null;
    return {
      system,
      baseAntennaM,
      slant,
      known: place(latitude, longitude, height, countsOn),
      sent: place(...sentAt, height + baseAntennaM + random.between(-4, 4), countsOn),
      phaseCentreM: random.next() < 0.5 ? '0' : random.between(0.02, 0.12).toFixed(4),
      azimuthIs: random.next() < 0.5 ? 'top-from-tip' : 'tip-from-top',
      rovers: Array.from({ length: 4 }, (__, rover) =>
        roverOf(random, [latitude, longitude], countsOn, rover === 0 ? pole : null),
      ),
    };
  });
}

/** The area of use without its edges. */
function areaOf(code: string): readonly [number, number, number, number] {
  const area = gridOf(code).areaOfUse;
  if (area === null) throw new Error(`${code} has no area of use`);
  const east = area.eastDeg < area.westDeg ? area.eastDeg + 360 : area.eastDeg;
  const inset = (low: number, high: number): readonly [number, number] => [
    low + 0.15 * (high - low),
    high - 0.15 * (high - low),
  ];
  return [...inset(area.southDeg, area.northDeg), ...inset(area.westDeg, east)];
}

/** The session of a survey. */
export function sessionOf({ system, sent, known, baseAntennaM, slant, phaseCentreM, azimuthIs }: MiniSurvey): string {
  const coordinate = ([latitude, longitude, height]: Place, at: string): string =>
    `{ latitude_deg = ${latitude}, longitude_deg = ${longitude}, ellipsoidal_height_m = ${height}, at = "${at}" }`;
  const antenna =
    slant === null
      ? `antenna_height_m = ${baseAntennaM.toFixed(4)}`
      : `antenna_height_m = ${slant.lengthM}\nantenna_height_kind = "slant"\nantenna_radius_m = ${slant.radiusM}\nantenna_offset_m = ${slant.offsetM}`;
  return `version = 1
[system]
grid = "${system}"
[rover]
reference_point = "apc"
phase_centre_offset_m = ${phaseCentreM}
tilt_azimuth = "${azimuthIs}"
tilt_azimuth_sigma_deg = 1.0
[[base]]
id = "B1"
broadcast = ${coordinate(sent, 'arp')}
known = ${coordinate(known, 'mark')}
${antenna}
sigma_horizontal_m = 0.01
sigma_vertical_m = 0.02
`;
}

/** Its fixes, one epoch a point. */
export function fixesOf({ rovers }: MiniSurvey): string {
  const rows = rovers.map(({ fix, poleM, tiltDeg, azimuthDeg }, index) =>
    [`R${String(index)}`, `2026-03-04T07:0${String(index)}:00Z`, ...fix, 'fixed', poleM, tiltDeg, azimuthDeg].join(','),
  );
  return `point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,pole_length_m,tilt_deg,tilt_azimuth_deg\n${rows.join('\n')}\n`;
}
