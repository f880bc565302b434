// A seeded file of fixes for the bench: ten columns, about 90 bytes a row.
import { once } from 'node:events';
import { createWriteStream } from 'node:fs';

const HEADER =
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,sigma_up_m\n';

/** mulberry32: a small generator of 32-bit state, public domain. */
function random(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
}

/** Writes `rows` epochs, `epochsAPoint` of them at each place, over about 80 km by 80 km. */
export async function writeFixes(path, rows, epochsAPoint) {
  const next = random(20260304);
  const out = createWriteStream(path);
  const startMs = Date.UTC(2026, 2, 4, 6);
  let place = { latitude: 0, longitude: 0, height: 0 };
  let text = HEADER;
  for (let row = 0; row < rows; row += 1) {
    if (row % epochsAPoint === 0)
      place = {
        latitude: -31.5 + (next() - 0.5) * 0.8,
        longitude: 21.4 + (next() - 0.5) * 0.8,
        height: 1000 + next() * 200,
      };
    const shake = epochsAPoint > 1 ? () => (next() - 0.5) * 4e-8 : () => 0;
    const time = new Date(startMs + row * 1000).toISOString().replace('.000', '');
    text += `P${Math.floor(row / epochsAPoint)},${time},${(place.latitude + shake()).toFixed(10)},${(place.longitude + shake()).toFixed(10)},${(place.height + shake() * 1e5).toFixed(4)},fixed,1.0,18,1.5,0.012\n`;
    if (text.length > 1 << 20) {
      if (!out.write(text)) await once(out, 'drain');
      text = '';
    }
  }
  out.end(text);
  await once(out, 'finish');
}

/** The session of the bench: one base in the middle, the built-in geoid. */
export const SESSION = `version = 1
[system]
grid = "EPSG:2049"
[height]
geoid = "egm96"
[rover]
reference_point = "apc"
phase_centre_offset_m = 0
pole_length_m = 2.0
[[base]]
id = "B1"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
known = { latitude_deg = -31.50001, longitude_deg = 21.4, ellipsoidal_height_m = 1041.9, at = "mark" }
antenna_height_m = 1.6
sigma_horizontal_m = 0.01
sigma_vertical_m = 0.02
`;
