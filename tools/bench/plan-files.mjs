// An invented layout for the planning bench: the same files every time.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Fractions of 1 from a multiplicative sequence (minimal standard generator); the same in every run. */
function fractions(seed) {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

/** Writes plan-points.csv and plan-candidates.csv, with heights, over about 110 by 110 km. */
export function writePlanFiles(folder, points, candidates) {
  const next = fractions(20_260_304);
  const place = () =>
    `${(-32 + next()).toFixed(9)},${(20.8 + 1.2 * next()).toFixed(9)},${(1000 + 400 * next()).toFixed(3)}`;
  const tolerances = ['0.08', '0.10', '0.12'];
  const pointRows = Array.from({ length: points }, (_, index) => `P${index},${place()},${tolerances[index % 3]}`);
  const candidateRows = Array.from({ length: candidates }, (_, index) => `C${index},${place()},yes,${index % 10}`);
  const position = 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m';
  writeFileSync(join(folder, 'plan-points.csv'), `${position},tolerance_vertical_m\n${pointRows.join('\n')}\n`);
  writeFileSync(join(folder, 'plan-candidates.csv'), `${position},cellular,sky_score\n${candidateRows.join('\n')}\n`);
}

/** Writes sky-points.csv over the same ground. */
export function writeSkyPoints(folder, points) {
  const next = fractions(20_250_802);
  const rows = Array.from(
    { length: points },
    (_, index) => `S${index},${(-32 + next()).toFixed(9)},${(20.8 + 1.2 * next()).toFixed(9)},1000`,
  );
  const header = 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m';
  writeFileSync(join(folder, 'sky-points.csv'), `${header}\n${rows.join('\n')}\n`);
}
