import { Buffer } from 'node:buffer';
import type { Habit } from './habit.js';
import { isoText, MARKS, partsOf, ROWS } from './truth.js';

const COMMON: readonly string[] = ['system.grid=EPSG:32734', 'system.fixes=EPSG:4326'];

/** RFC 7946, with properties of another habit. */
export function geojsonHabit(): Habit {
  const features = ROWS.map(({ id, ms, latitudeDeg, longitudeDeg, heightM }) => ({
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [longitudeDeg, latitudeDeg, Number(heightM.toFixed(3))] },
    properties: { Station: id, Time: isoText(ms), Quality: 'fix' },
  }));
  return {
    name: 'geojson',
    file: 'fixes.geojson',
    bytes: Buffer.from(JSON.stringify({ type: 'FeatureCollection', features }), 'utf8'),
    answers: [...COMMON, 'rover.reference_point=tip'],
    toleranceM: 0.0006,
  };
}

/** NMEA 0183: a log of the first mark, the antenna on it. */
export function nmeaHabit(): Habit {
  const [mark] = MARKS;
  const sentences = ROWS.filter(({ id }) => id === mark.id).flatMap(({ ms, latitudeDeg, longitudeDeg, heightM }) => {
    const [year, month, day, hour, minute, second] = partsOf(ms);
    const clock = `${hour}${minute}${second}.00`;
    const north = `${degreesMinutes(latitudeDeg, 2)},S`;
    const east = `${degreesMinutes(longitudeDeg, 3)},E`;
    return [
      sentence(`GNGGA,${clock},${north},${east},4,17,0.8,${(heightM - 31.5).toFixed(3)},M,31.500,M,1.0,0042`),
      sentence(`GNRMC,${clock},A,${north},${east},0.0,,${day}${month}${year.slice(2)},,,R`),
    ];
  });
  return {
    name: 'nmea',
    file: 'P1.nmea',
    bytes: Buffer.from(sentences.join(''), 'utf8'),
    answers: [...COMMON, 'rover.phase_centre_offset_m=0', 'rover.pole_length_m=0', 'base=none'],
    toleranceM: 0.0006,
  };
}

function degreesMinutes(degrees: number, width: number): string {
  const size = Math.abs(degrees);
  const whole = Math.floor(size);
  return `${String(whole).padStart(width, '0')}${((size - whole) * 60).toFixed(8).padStart(11, '0')}`;
}

/** With its checksum: the exclusive or of the characters between $ and *. NMEA 0183, from memory. */
function sentence(body: string): string {
  const sum = Buffer.from(body, 'latin1').reduce((total, byte) => total ^ byte, 0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}\r\n`;
}
