import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';

// A page is made of rows with all their texts: a run with --report reads and writes them by cells, one without it in bytes.
const cwd = mkdtempSync(join(tmpdir(), 'pegbook-bytes-'));
afterAll(() => {
  rmSync(cwd, { recursive: true, force: true });
});

const HEADER = 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,crew,sigma_up_m\n';
/** Rows in and out of the area of use; every fifteenth thousand or so one that is not in the plain form. */
function rows(count: number, isOdd: boolean): string {
  let text = HEADER;
  for (let n = 0; n < count; n += 1) {
    const height = n % 7 === 0 ? '' : String(100 + n / 8);
    const id =
      isOdd && n % 1500 === 700
        ? `"P, ${String(n)}"`
        : isOdd && n % 3000 === 50
          ? `Bäke ${String(n)}`
          : `P${String(n)}`;
    const longitude = isOdd && n % 2500 === 60 ? 'x' : (n % 400 === 399 ? 24 : 21 + n / 2e5).toFixed(9);
    text += `${id},${(-31 - n / 1e5).toFixed(9)},${longitude},${height},a b,0.01\n`;
  }
  return text;
}

describe('transform in bytes', () => {
  it.each([
    ['plain rows', rows(4000, false), []],
    ['rows of every kind', rows(4000, true), []],
    ['line ends of two characters', rows(30, false), ['--eol', 'crlf', '--bom']],
    ['no rows', HEADER, []],
  ] as const)('writes and says what it does by cells: %s', async (_what, text, more) => {
    writeFileSync(join(cwd, 'in.csv'), text);
    const words = [
      'transform',
      'in.csv',
      '--from',
      'EPSG:4148',
      '--to',
      'EPSG:2049',
      '--on-error',
      'skip',
      ...more,
      '--force',
    ];
    const bytes = await runInProcess([...words, '-o', 'bytes.csv', '--rejects', 'a.csv'], { cwd });
    const cells = await runInProcess([...words, '-o', 'cells.csv', '--rejects', 'b.csv', '--report', 'p.html'], {
      cwd,
    });
    expect(bytes.exit).toBe(cells.exit);
    expect(bytes.stderr).toBe(cells.stderr.replaceAll('b.csv', 'a.csv').replaceAll('cells.csv', 'bytes.csv'));
    const read = (name: string): string => readFileSync(join(cwd, name), 'utf8');
    expect(read('bytes.csv')).toBe(read('cells.csv'));
    expect(read('a.csv')).toBe(read('b.csv'));
    if (text.length > 1e5) expect(bytes.stderr).toContain('outside the area of use');
  });
});
