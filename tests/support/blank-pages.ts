import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hasProgram } from './external-programs.js';

/** Dots to the inch: enough to see where ink ends. */
const DPI = 25;
/** Of A4 at the top and at the bottom, as the page's own style has it. */
const MARGIN_MM = 16;
const SHEET_MM = 297;
/** Of 255: darker is ink. */
const INK = 200;

/** Whether a program that draws a PDF is installed. */
export const hasPdfDrawing: boolean = hasProgram('pdftoppm');

if (!hasPdfDrawing)
  process.stderr.write('blank sheets of printed pages are not looked for: pdftoppm is not installed\n');

/** The share of the printable height that each sheet leaves blank at its end, the last sheet apart. */
export function blankShares(pdf: Uint8Array): readonly number[] {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-sheets-'));
  try {
    writeFileSync(join(folder, 'page.pdf'), pdf);
    const run = spawnSync('pdftoppm', ['-gray', '-r', String(DPI), 'page.pdf', 'sheet'], { cwd: folder });
    if (run.status !== 0) throw new Error(run.stderr.toString());
    const sheets = readdirSync(folder)
      .filter((name) => name.endsWith('.pgm'))
      .sort();
    return sheets.slice(0, -1).map((name) => blankShare(readFileSync(join(folder, name))));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Of a grey picture: `P5`, width and height, 255, then a byte a dot. */
function blankShare(picture: Buffer): number {
  const [, width = 0, height = 0] =
    /^P5\s+(\d+)\s+(\d+)\s+255\s/u.exec(picture.subarray(0, 40).toString('latin1'))?.map(Number) ?? [];
  const dots = picture.subarray(picture.length - width * height);
  let last = height;
  while (last > 0 && dots.subarray((last - 1) * width, last * width).every((grey) => grey > INK)) last -= 1;
  const margin = (MARGIN_MM / SHEET_MM) * height;
  return Math.max(0, 1 - (last - margin) / (height - 2 * margin));
}
