import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';

// Convergence worked in closed form, against that of the system, which comes from small differences of another program's projection (proj4): they share no formula.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-convergence-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function textOf(words: readonly string[]): Promise<string> {
  const { exit, stdout, stderr } = await runInProcess(words, { cwd: folder });
  if (exit > 1) throw new Error(stderr);
  return stdout.toString('utf8');
}

describe('the convergence of an oblique projection, worked step by step,', () => {
  it.each([
    ['EPSG:4156', 'EPSG:5514', '49.8123456,15.4567891'],
    ['EPSG:4156', 'EPSG:5513', '48.3,19.7'],
    ['EPSG:4298', 'EPSG:29873', '1.5234567,110.3543211'],
    ['EPSG:4742', 'EPSG:3375', '3.1234567,101.6543211'],
    ['EPSG:4269', 'EPSG:26931', '57.1234567,-134.1234567'],
  ])('is that of the system: %s to %s', async (from, to, place) => {
    writeFileSync(join(folder, 'p.csv'), `point_id,latitude_deg,longitude_deg\nP,${place}\n`);
    const said = await textOf(['transform', 'p.csv', '--from', from, '--to', to, '--explain', 'P', '-q']);
    const worked = Number(/ γ = ψ − [^=]*= (\S+)°/u.exec(said)?.[1]);
    const own = await textOf(['describe-system', to, `--at=${place}`, '-q']);
    // Both are written to at least six decimals of a degree.
    expect(Math.abs(worked - Number(/convergence_deg\s+(\S+)/u.exec(own)?.[1]))).toBeLessThan(1e-6);
  });

  it.each([
    ['Laborde', 'EPSG:4297', 'EPSG:8441', '-17.1,47.1'],
    ['Laborde, far', 'EPSG:4297', 'EPSG:8441', '-24.9,44.2'],
    ['the map grid of New Zealand', 'EPSG:4272', 'EPSG:27200', '-41.2,174.6'],
    ['the map grid of New Zealand, in the south', 'EPSG:4272', 'EPSG:27200', '-46.5,168.3'],
    ['Krovak, modified', 'EPSG:5228', 'EPSG:5516', '49.8,15.4'],
    ['Krovak, modified, counted south and west', 'EPSG:5228', 'EPSG:5515', '48.9,18.1'],
  ])('has scale and convergence of the system: %s', async (_, from, to, place) => {
    writeFileSync(join(folder, 'p.csv'), `point_id,latitude_deg,longitude_deg\nP,${place}\n`);
    const said = await textOf(['transform', 'p.csv', '--from', from, '--to', to, '--explain', 'P', '-q']);
    const own = await textOf(['describe-system', to, `--at=${place}`, '-q']);
    const of = (name: string): number => Number(new RegExp(`^${name}\\s+(\\S+)`, 'mu').exec(own)?.[1] ?? NaN);
    const printed = (name: string): number =>
      Number(new RegExp(`(?:^|[ ;])${name} = [^;\\n]*= (-?[\\d.]+)°?(?:;|$)`, 'mu').exec(said)?.[1] ?? NaN);
    const isModified = said.includes('γ_M = ');
    expect(Math.abs(printed(isModified ? 'γ_M' : 'γ') - of('convergence_deg'))).toBeLessThan(1e-6);
    // Nine decimals are printed; those of New Zealand differ by 2 in the ninth between directions.
    const [along, across] = isModified
      ? [of('meridian_scale_factor'), of('parallel_scale_factor')]
      : [of('point_scale_factor'), of('point_scale_factor')];
    const names = isModified ? ['h_φ', 'k_λ'] : to === 'EPSG:27200' ? ['h', 'k'] : ['k', 'k'];
    expect(Math.abs(printed(names[0] ?? '') - along)).toBeLessThan(3e-9);
    expect(Math.abs(printed(names[1] ?? '') - across)).toBeLessThan(3e-9);
  });
});
