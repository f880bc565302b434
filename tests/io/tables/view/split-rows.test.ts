import { Buffer } from 'node:buffer';
import { describe, expect, it } from 'vitest';
import { cellValue, linesOf, memberValue, rawCells, rawMembers } from '../../../../src/io/tables/view/split-rows.js';
import { all, chunksOf } from '../../support.js';

const lines = (text: string, isQuoted: boolean, size = 1000): Promise<string[]> =>
  all(
    linesOf(
      (async function* () {
        for await (const chunk of chunksOf(Buffer.from(text), size)) yield Buffer.from(chunk);
      })(),
      isQuoted,
    ),
  );

describe('lines of a table', () => {
  it.each([1, 2, 3, 7, 1000])('keep their ends, in chunks of %i bytes', async (size) => {
    expect(await lines('a,b\r\n\nŠum,2\nend', true, size)).toEqual(['a,b\r\n', '\n', 'Šum,2\n', 'end']);
    expect(await lines('a\n', true, size)).toEqual(['a\n']);
    expect(await lines('', true, size)).toEqual([]);
    // A line end within quotes ends a line only where quotes are none.
    expect(await lines('a,"x\ny",b\nc\n', true, size)).toEqual(['a,"x\ny",b\n', 'c\n']);
    expect(await lines('a,"x\ny",b\nc\n', false, size)).toEqual(['a,"x\n', 'y",b\n', 'c\n']);
    expect(await lines('"a ""b""\n c"\nd', true, size)).toEqual(['"a ""b""\n c"\n', 'd']);
  });
});

describe('cells of a line', () => {
  it.each<readonly [string, readonly string[]]>([
    ['a,b,c\n', ['a', 'b', 'c']],
    ['a,b,c\r\n', ['a', 'b', 'c']],
    ['a,,\n', ['a', '', '']],
    ['', ['']],
    ['"a,b",c\n', ['"a,b"', 'c']],
    ['x,"a ""q"", b",\n', ['x', '"a ""q"", b"', '']],
    [',"a"', ['', '"a"']],
  ])('%j stand as they are', (line, cells) => {
    expect(rawCells(line)).toEqual(cells);
  });

  it.each([
    ['"a,b"', 'a,b'],
    ['"a ""q"""', 'a "q"'],
    ['""', ''],
    ['"', '"'],
    ['a"', 'a"'],
    ['"a', '"a'],
    ['1.50', '1.50'],
  ])('%j hold %j', (raw, value) => {
    expect(cellValue(raw)).toBe(value);
  });
});

describe('members of an object', () => {
  it('stand as they are, whatever their texts hold', () => {
    expect(rawMembers('{"id":"a, \\"b\\": {c}","n":-1.50,"none":null,"list":["x","]"],"empty":[]}')).toEqual([
      ['id', '"a, \\"b\\": {c}"'],
      ['n', '-1.50'],
      ['none', 'null'],
      ['list', '["x","]"]'],
      ['empty', '[]'],
    ]);
  });

  it.each([
    ['null', ''],
    ['-1.50', '-1.50'],
    ['"a \\"b\\""', 'a "b"'],
    ['["x","y"]', 'x;y'],
    ['[]', ''],
    ['true', 'true'],
  ])('%s holds %j as a cell', (raw, value) => {
    expect(memberValue(raw)).toBe(value);
  });
});
