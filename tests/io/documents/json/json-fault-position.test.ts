import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { jsonFaultPosition } from '../../../../src/io/documents/json/json-fault-position.js';

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

describe('where a text stops being JSON', () => {
  // RFC 8259 sections 2 to 7: the first sign that the grammar does not admit there.
  it.each([
    ['{"a": 1,\n}', 9],
    ['{"a": x}', 6],
    ['[1, 2', 5],
    ['[1 2]', 3],
    ['{"a" 1}', 5],
    ['{1: 2}', 1],
    ['[01]', 2],
    ['[1.]', 2],
    ['"a\nb"', 0],
    ['', 0],
    ['{} {}', 3],
    ['[}', 1],
    ['[1,]', 3],
    ['hello', 0],
  ])('%j stops at %i', (text, at) => {
    expect(jsonFaultPosition(text)).toBe(at);
  });

  it('judges as the parser of the engine does, whatever is cut, doubled or exchanged', () => {
    fc.assert(
      fc.property(
        fc.json({ maxDepth: 3 }),
        fc.nat(),
        fc.constantFrom('', '"', ',', '}', ']', '\\', '0', '-', ' '),
        (json, n, put) => {
          const at = n % (json.length + 1);
          const text = json.slice(0, at) + put + json.slice(at + (n % 3));
          expect(jsonFaultPosition(text) === null).toBe(isJson(text));
        },
      ),
      { numRuns: 2000 },
    );
  });
});
