import type { CellKind } from './cell-text.js';

/** A cell as a value of JSON: numbers as they are written, an unknown one null, codes as a list, everything else as text. */
export function jsonCell(cell: string, kind: CellKind): string {
  switch (kind) {
    case 'number':
      return cell === '' ? 'null' : cell;
    case 'list':
      return JSON.stringify(cell === '' ? [] : cell.split(';'));
    case 'text':
      return JSON.stringify(cell);
  }
}
