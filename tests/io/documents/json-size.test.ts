import { describe, expect, it } from 'vitest';
import { readFeatures, readGeojsonTable } from '../../../src/io/geojson/geojson-table.js';
import { jsonSize } from '../../../src/io/documents/json-size.js';

const collection = (features: string): string => `{"type":"FeatureCollection","features":[${features}]}`;
const codesOf = ({ problems }: { readonly problems: readonly { readonly code: string }[] }): readonly string[] =>
  problems.map(({ code }) => code);

describe('jsonSize', () => {
  it('counts objects, lists and members, and none that stand in a text', () => {
    expect(jsonSize('[{},{}]')).toEqual({ bytes: 7 + 3 * 64 + 16, depth: 2 });
    expect(jsonSize('"[{,"')).toEqual({ bytes: 5, depth: 0 });
    expect(jsonSize('["\\"[[[,", "\\\\", []]')).toEqual({ bytes: 20 + 2 * 64 + 2 * 16, depth: 2 });
  });

  it('ends with any text', () => {
    for (const text of ['', '"', '"\\', '"\\"', '[[[', ']]]'])
      expect(jsonSize(text).bytes).toBeGreaterThanOrEqual(text.length);
  });
});

describe('readFeatures', () => {
  const empty = collection(Array.from({ length: 1000 }, () => '{}').join(','));

  it('refuses, before it is unpacked, what would take more than three quarters of the room', () => {
    const needed = jsonSize(empty).bytes;
    expect(codesOf(readFeatures(empty, 'x', needed))).toEqual(['file-too-large']);
    expect(readFeatures(empty, 'x', 2 * needed).ok).toBe(true);
  });

  it('refuses what is nested without end', () => {
    expect(codesOf(readFeatures('['.repeat(1_000_000), 'x'))).toEqual(['geojson-structure']);
  });

  it('tells a thousand features that are none, and no more', () => {
    expect(readGeojsonTable(collection(Array.from({ length: 3000 }, () => '{}').join(',')), 'x').problems).toHaveLength(
      1000,
    );
  });

  it('counts the lines of a text of line ends', () => {
    expect(readFeatures('\n'.repeat(1000), 'x').problems[0]?.where?.line).toBe(1001);
  });
});
