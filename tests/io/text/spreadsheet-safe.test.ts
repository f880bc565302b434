import { describe, expect, it } from 'vitest';
import { createCsvWriter } from '../../../src/io/csv/csv-write.js';
import { spreadsheetSafe } from '../../../src/io/text/spreadsheet-safe.js';

describe('spreadsheetSafe', () => {
  it.each(['=1+1', '+cmd', '-a', '@SUM(A1)', '\tx', '\r=1', '-1+1', '- 1', '=-1', '+'])(
    'puts an apostrophe before %j',
    (cell) => {
      expect(spreadsheetSafe(cell)).toBe(`'${cell}`);
    },
  );
  it.each(['', '-1', '+1.5', '-1e-3', '1=1', "'=1", 'A-1', ' =1', '-31.501460000'])('leaves %j as it is', (cell) => {
    expect(spreadsheetSafe(cell)).toBe(cell);
  });
});

describe('createCsvWriter with isSpreadsheetSafe', () => {
  const rows = [
    ['=HYPERLINK("x")', '-1.5'],
    ['@a,b', '+2'],
  ];
  it('makes headers and cells safe, and quotes them where it must', () => {
    const writer = createCsvWriter(['-a', 'b'], { delimiter: ',', eol: '\n', bom: false, isSpreadsheetSafe: true });
    expect(writer.header() + writer.rows(rows)).toBe(`'-a,b\n"'=HYPERLINK(""x"")",-1.5\n"'@a,b",+2\n`);
  });
  it('changes nothing unless asked', () => {
    const writer = createCsvWriter(['-a', 'b']);
    expect(writer.header() + writer.rows(rows)).toBe(`-a,b\n"=HYPERLINK(""x"")",-1.5\n"@a,b",+2\n`);
  });
});
