import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Puts a control with a blunder of 0.35 m into the folder of the runs: of a fitted point in plan, of one that is kept out in height. */
export function plantFailures(folder: string): void {
  const lines = readFileSync(join(folder, 'examples/quillback-pan-site/control.csv'), 'utf8').trimEnd().split('\n');
  const [header = '', ...rows] = lines;
  const at = (name: string): number => header.split(',').indexOf(name);
  const moved = (row: string, column: string, byM: number): string => {
    const cells = row.split(',');
    cells[at(column)] = (Number(cells[at(column)]) + byM).toFixed(4);
    return cells.join(',');
  };
  const text = rows.map((row) => {
    if (row.startsWith('QS-3,')) return moved(row, 'easting_m', 0.35);
    return row.startsWith('QS-8,') ? moved(row, 'orthometric_height_m', 0.35) : row;
  });
  writeFileSync(join(folder, 'site-control.csv'), `${[header, ...text].join('\n')}\n`);
}
