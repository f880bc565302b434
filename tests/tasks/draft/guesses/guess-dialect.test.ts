import { describe, expect, it } from 'vitest';
import { guessDialect } from '../../../../src/tasks/draft/guesses/guess-dialect.js';

const lines = (...all: readonly string[]): string => `${all.join('\n')}\n`;
const many = (count: number, line: string): readonly string[] => Array.from({ length: count }, () => line);

describe('what sets cells apart', () => {
  it.each([
    [',', 'name,north,east', 'A,1.5,2.5'],
    [';', 'name;north;east', 'A;1.5;2.5'],
    ['\t', 'name\tnorth\teast', 'A\t1.5\t2.5'],
    ['|', 'name|north|east', 'A|1.5|2.5'],
  ])('is %j where the lines agree in their count of it', (delimiter, header, row) => {
    expect(guessDialect(lines(header, row, row))).toMatchObject({
      delimiter,
      delimiterWhy: '3 of 3 lines have 2 each',
      skipLines: 0,
      hasHeader: true,
      dataLines: 2,
      rowsUnderHeader: 0,
      comment: null,
    });
  });

  it('is a semicolon where commas are decimal marks', () => {
    expect(guessDialect(lines('a;b;c', '1,5;2,5;3,5', '2,5;3,5;4,5'))).toMatchObject({
      delimiter: ';',
      decimalMark: ',',
      decimalWhy: '6 numbers such as 1,5, none with a point',
    });
  });

  it('is what parts three cells before what parts two', () => {
    // One semicolon and two commas a line.
    expect(guessDialect(lines('a;x,b,c', 'P;1,2,3', 'Q;4,5,6')).delimiter).toBe(',');
    expect(guessDialect(lines('a;b', 'P;1', 'Q;2')).delimiter).toBe(';');
  });

  it('is nothing where no count is that of four lines in five, two lines apart', () => {
    // Ten lines need 0.8 · 10 − 2: six alike.
    const text = (alike: number): string => lines(...many(alike, 'A,1,2'), ...many(10 - alike, 'only text'));
    expect(guessDialect(text(6)).delimiter).toBe(',');
    expect(guessDialect(text(5))).toMatchObject({
      delimiter: null,
      delimiterWhy: 'no comma, semicolon, tab or bar sets cells apart',
    });
  });

  it('leaves those inside quotes alone, and a quote inside a cell', () => {
    expect(guessDialect(lines('name,note,n', 'A,"x, y, z",1', 'B,"p, q",2')).delimiterWhy).toBe(
      '3 of 3 lines have 2 each',
    );
    expect(guessDialect(lines('name,note,n', 'A,5" pipe,1', 'B,6" pipe,2')).delimiterWhy).toBe(
      '3 of 3 lines have 2 each',
    );
    // A quoted number is a number.
    expect(guessDialect(lines('name,n', 'A,"1.5"', 'B,"2.5"')).dataLines).toBe(2);
  });
});

describe('where the table begins', () => {
  it('is at the last line as wide as the data before it', () => {
    expect(guessDialect(lines('Job: hill', 'name,north,east', 'A,1,2', 'B,3,4', 'C,5,6'))).toMatchObject({
      skipLines: 1,
      hasHeader: true,
      dataLines: 3,
    });
    expect(guessDialect(lines('', 'name,north,east', '', 'A,1,2', 'B,3,4'))).toMatchObject({
      skipLines: 1,
      dataLines: 2,
    });
  });

  it('may have a row of units under the header, where half of its cells are such', () => {
    expect(guessDialect(lines('name,north,east', ',m,m', 'A,1,2'))).toMatchObject({
      skipLines: 0,
      rowsUnderHeader: 1,
      dataLines: 1,
    });
    expect(guessDialect(lines('id,north,east', 'no unit,wide,metres', 'A,1,2'))).toMatchObject({
      skipLines: 1,
      rowsUnderHeader: 0,
    });
    expect(guessDialect(lines('id,north,east,up', 'no,way,m,m', 'A,1,2,3')).rowsUnderHeader).toBe(1);
    // Of one line before the data none is left for a header.
    expect(guessDialect(lines('m,m,m', 'A,1,2'))).toMatchObject({ skipLines: 0, rowsUnderHeader: 0, hasHeader: true });
  });

  it('has no header where the first line is data', () => {
    expect(guessDialect(lines('A,1,2', 'B,3,4'))).toMatchObject({ skipLines: 0, hasHeader: false, dataLines: 2 });
  });

  it('has no data where no row has three numbers in ten cells', () => {
    expect(guessDialect(lines('a,b', 'c,d', 'e,f'))).toMatchObject({ hasHeader: true, skipLines: 0, dataLines: 0 });
    const row = (numbers: number): string =>
      Array.from({ length: 10 }, (_, i) => (i < numbers ? String(i) : `text${'x'.repeat(i)}`)).join(',');
    const header = row(0);
    expect(guessDialect(lines(header, row(3), row(3))).dataLines).toBe(2);
    expect(guessDialect(lines(header, row(2), row(2))).dataLines).toBe(0);
    // Empty cells do not count, and one number is needed.
    expect(guessDialect(lines('a,b,c', 'P,,1', 'Q,,2')).dataLines).toBe(2);
    expect(guessDialect(lines('a,b,c', ',,', ',,')).dataLines).toBe(0);
  });

  it('takes angles and dates for numbers, and words with digits for none', () => {
    expect(guessDialect(lines('a,b', `31°30'36"N,x`, `31°30'37"S,x`)).dataLines).toBe(2);
    expect(guessDialect(lines('a,b', '2026-03-04,x', '2026-03-05,x')).dataLines).toBe(2);
    expect(guessDialect(lines('a,b', 'P1,x', 'P2,x')).dataLines).toBe(0);
  });
});

describe('a comment', () => {
  it.each(['#', '%', '//', '!'])('begins with %s, where fewer than half of the lines do', (mark) => {
    expect(guessDialect(lines(`${mark} made by hand`, 'a,b,c', 'P,1,2', 'Q,3,4'))).toMatchObject({
      comment: mark,
      skipLines: 1,
      dataLines: 2,
      delimiterWhy: '3 of 3 lines have 2 each',
    });
  });

  it('is none where half of the lines begin so, or where each that does has cells', () => {
    expect(guessDialect(['# one', '# two', 'a,b,c', 'P,1,2'].join('\n')).comment).toBeNull();
    expect(guessDialect(['# one', '# two', 'a,b,c', 'P,1,2', 'Q,1,2'].join('\n')).comment).toBe('#');
    expect(guessDialect(lines('#id,north,east', 'P,1,2', 'Q,3,4')).comment).toBeNull();
  });
});

describe('the decimal mark', () => {
  it('is a point where no number has a comma, or where commas set cells apart', () => {
    expect(guessDialect(lines('a;b', 'P;1.5', 'Q;2'))).toMatchObject({ decimalMark: '.', decimalWhy: '' });
    expect(guessDialect(lines('a,b', '"1,5",2', '"2,5",3'))).toMatchObject({ decimalMark: '.', decimalWhy: '' });
  });

  it('is mixed where some have the one and some the other', () => {
    expect(guessDialect(lines('a;b', '1,5;-1.5', '2,5;7'))).toMatchObject({
      decimalMark: 'mixed',
      decimalWhy: '2 numbers such as 1,5 and 1 such as -1.5',
    });
  });
});

describe('what is looked at', () => {
  it('is 400 lines', () => {
    const text = lines('a,b,c', ...many(500, 'P,1,2'));
    expect(guessDialect(text)).toMatchObject({ dataLines: 399, delimiterWhy: '400 of 400 lines have 2 each' });
  });
});

describe('lines that do not agree', () => {
  const shape = (...all: readonly string[]): unknown => {
    const { delimiterWhy, skipLines, hasHeader, dataLines, rowsUnderHeader } = guessDialect(lines(...all));
    return { delimiterWhy, skipLines, hasHeader, dataLines, rowsUnderHeader };
  };

  it('are counted by what most of them have; of two counts that are as frequent the larger', () => {
    expect(shape('name,north,east', 'A,1,2', 'B,3', 'C,5,6')).toMatchObject({
      delimiterWhy: '3 of 4 lines have 2 each',
    });
    expect(shape('name,north', 'A,1', 'B,3,4', 'C,5,6')).toMatchObject({ delimiterWhy: '2 of 4 lines have 2 each' });
    expect(shape('B,3,4', 'C,5,6', 'name,north', 'A,1')).toMatchObject({ delimiterWhy: '2 of 4 lines have 2 each' });
  });

  it('have the header and its units right above the data, whatever as wide a title stands before', () => {
    expect(shape('Job,of,May', 'name,north,east', '-,m,m', 'A,1.5,2.5')).toMatchObject({
      skipLines: 1,
      rowsUnderHeader: 1,
      dataLines: 1,
    });
    expect(shape('Job,of,May', 'name,north,east', 'A,1.5,2.5')).toMatchObject({ skipLines: 1, rowsUnderHeader: 0 });
  });

  it('are no data and no units where all their cells are empty', () => {
    expect(shape('name,north,east', ',,', 'A,1.5,2.5', 'B,1.5,2.5')).toMatchObject({
      dataLines: 2,
      rowsUnderHeader: 0,
    });
  });

  it('may have one column, with a header of its own', () => {
    expect(shape('height', '1.5', '2.5')).toEqual({
      delimiterWhy: 'no comma, semicolon, tab or bar sets cells apart',
      skipLines: 0,
      hasHeader: true,
      dataLines: 2,
      rowsUnderHeader: 0,
    });
  });
});
