// Invented points and the control they are compared with: the same files every time.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Fractions of 1 from a multiplicative sequence (minimal standard generator); the same in every run. */
function fractions(seed) {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

/** Writes check-points.csv and check-control.csv: each point once, some centimetres from its known place. */
export function writeCheckFiles(folder, points) {
  const next = fractions(20_260_305);
  const off = (size) => (next() + next() + next() - 1.5) * size;
  const measured = ['point_id,westing_m,southing_m,orthometric_height_m'];
  const known = ['point_id,westing_m,southing_m,orthometric_height_m,sigma_horizontal_m,sigma_vertical_m,role'];
  for (let index = 0; index < points; index += 1) {
    const [westing, southing, height] = [
      -38_000 + (next() - 0.5) * 8e4,
      3_486_000 + (next() - 0.5) * 8e4,
      1000 + 200 * next(),
    ];
    known.push(`P${index},${westing.toFixed(4)},${southing.toFixed(4)},${height.toFixed(4)},0.01,0.01,check`);
    measured.push(
      `P${index},${(westing + off(0.02)).toFixed(4)},${(southing + off(0.02)).toFixed(4)},${(height + off(0.04)).toFixed(4)}`,
    );
  }
  writeFileSync(join(folder, 'check-points.csv'), `${measured.join('\n')}\n`);
  writeFileSync(join(folder, 'check-control.csv'), `${known.join('\n')}\n`);
}
