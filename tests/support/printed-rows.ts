import { spawnSync } from 'node:child_process';
import { hasProgram } from './external-programs.js';
import { plainText } from './table-cells.js';

/** False where poppler's pdftotext is absent; the text of printed pages is then not read back. */
export const hasPdfText: boolean = hasProgram('pdftotext');

if (!hasPdfText) process.stderr.write('the text of printed pages is not read back: pdftotext is not installed\n');

/** Its letters come in another order, so such a cell is compared by what it is made of. */
const FROM_THE_RIGHT = /[\p{Script=Hebrew}\p{Script=Arabic}]/u;
/** Controls of direction that a reader of PDF writes around text from the right. */
const DIRECTION = /[\u200E\u200F\u202A-\u202E\u2066-\u2069]/g;

/**
 * Rows of a page's tables that no sheet holds whole: each cell entire, one after the other. A row cut by the edge of
 * the paper or by the end of a sheet is among them.
 */
export function rowsNotWhole(html: string, pdf: Buffer): readonly string[] {
  const sheets = sheetsOf(pdf);
  return rowsOf(html).flatMap((cells) =>
    sheets.some((sheet) => holds(sheet, cells.map(bare))) ? [] : [cells.join(' | ')],
  );
}

/** Captions that no sheet holds together with the first row of their table. */
export function captionsAlone(html: string, pdf: Buffer): readonly string[] {
  const sheets = sheetsOf(pdf);
  return [...html.matchAll(/<caption>([\s\S]*?)<\/caption>[\s\S]*?<tbody>([\s\S]*?)<\/tr>/g)].flatMap(
    ([, caption = '', row = '']) => {
      const said = bare(plainText(caption));
      const cells = [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell]) =>
        bare(plainText(cell ?? '')),
      );
      return sheets.some((sheet) => sheet.includes(said) && holds(sheet, cells)) ? [] : [said];
    },
  );
}

/** What the last sheet holds beside the foot of the page, without spaces. */
export function besideTheFoot(html: string, pdf: Buffer): string {
  const foot = bare(plainText(/<footer>([\s\S]*?)<\/footer>/.exec(html)?.[1] ?? ''));
  // The text of a PDF ends with the end of its last sheet.
  return (sheetsOf(pdf).findLast((sheet) => sheet !== '') ?? '').replace(foot, '');
}

/** The text of each sheet, without spaces. */
function sheetsOf(pdf: Buffer): readonly string[] {
  const result = spawnSync('pdftotext', ['-raw', '-enc', 'UTF-8', '-', '-'], {
    input: pdf,
    maxBuffer: 256 * 1024 * 1024,
  });
  if (result.status !== 0)
    throw new Error(`pdftotext ended with ${String(result.status)}: ${result.stderr.toString()}`);
  return result.stdout.toString('utf8').split('\f').map(bare);
}

function holds(sheet: string, cells: readonly string[]): boolean {
  if (!cells.some((cell) => FROM_THE_RIGHT.test(cell))) return sheet.includes(cells.join(''));
  for (let at = 0; at < sheet.length; at += 1) {
    let end = at;
    const isRow = cells.every((cell) => {
      const found = sheet.slice(end, end + cell.length);
      end += cell.length;
      return found === cell || (FROM_THE_RIGHT.test(cell) && sorted(found) === sorted(cell));
    });
    if (isRow) return true;
  }
  return false;
}

function rowsOf(html: string): readonly (readonly string[])[] {
  const bodies = [...html.matchAll(/<tbody>([\s\S]*?)<\/tbody>/g)].map(([, body]) => body ?? '');
  return bodies.flatMap((body) =>
    [...body.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row]) =>
      [...(row ?? '').matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell]) => plainText(cell ?? '')),
    ),
  );
}

function bare(text: string): string {
  return text.replaceAll(DIRECTION, '').replaceAll(/\s/g, '');
}

function sorted(text: string): string {
  return Array.from(text).sort().join('');
}
