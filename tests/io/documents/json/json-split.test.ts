import { Buffer } from 'node:buffer';
import { describe, expect, it } from 'vitest';
import { readFeatures } from '../../../../src/io/geojson/geojson-features.js';
import { readGeojsonTable } from '../../../../src/io/geojson/geojson-table.js';
import { bytesInMemory } from '../../../../src/io/bytes/held-bytes.js';
import { createJsonSplitter, splitJson } from '../../../../src/io/documents/json/json-split.js';
import { seededRandom } from '../../../support/seeded-random.js';

const collection = (features: string): string => `{"type":"FeatureCollection","features":[${features}]}`;
const codesOf = ({ problems }: { readonly problems: readonly { readonly code: string }[] }): readonly string[] =>
  problems.map(({ code }) => code);
const split = (text: string): ReturnType<typeof splitJson> => splitJson(text, ['features'], 128);

/** What can be compared of the parts. */
function partsOf(parts: ReturnType<typeof splitJson>): unknown {
  if ('fault' in parts) return parts;
  const lists = [...parts.lists].map(([name, list]) => {
    const elements: unknown[] = [];
    const fault = list.each((element) => elements.push(element) > 0);
    return { name, elements, fault };
  });
  return { frame: parts.frame, bytes: parts.bytes, lists };
}

/** The document put together again; null where it is refused. */
function whole(text: string): unknown {
  const parts = split(text);
  if ('fault' in parts) return null;
  const features: unknown[] = [];
  const list = parts.lists.get('features');
  const fault = list?.each((element) => features.push(element) > 0) ?? null;
  if (fault !== null) return null;
  return list === undefined ? parts.frame : { ...(parts.frame as object), features };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

describe('splitJson', () => {
  it.each([
    '{"features":[]}',
    '{"features":[ ]}',
    '{"features":[1]}',
    '{ "a" : [1,[2]], "features" : [ {"b":[1,2]} , {"c":{"features":[1]}} ,"]", null ], "z": {"y":[{}]} }',
    '{"features":{"a":[1]}}',
    '[{"features":[1]}]',
    '{"f\\u0065atures":[{"a":"\\\\"},{"b":"\\""}]}',
    '{"a":{"features":[1,2]},"features":[3]}',
    'null',
    '"[{,"',
  ])('is the document again: %s', (text) => {
    expect(whole(text)).toEqual(parsed(text));
  });

  it('refuses whatever the parser of the language refuses, and nothing else (RFC 8259)', () => {
    const random = seededRandom(59);
    const good =
      '{"type":"x","features":[{"id":1,"a":[1,2.5e3,-4]},{"b":"q\\"]"} , {"c":{"d":null}}],"n":{"m":[true]}}';
    const marks = '[]{},:"\\ 1e.-tn\n';
    let [refused, taken] = [0, 0];
    for (let round = 0; round < 5000; round += 1) {
      const at = random.index(good.length);
      const kind = random.index(3);
      const mark = marks[random.index(marks.length)] as string;
      const text =
        kind === 0
          ? good.slice(0, at) + good.slice(at + 1)
          : good.slice(0, at) + mark + good.slice(kind === 1 ? at : at + 1);
      const expected = parsed(text);
      const found = whole(text);
      // A member twice is refused here and not there.
      const parts = split(text);
      if ('fault' in parts && parts.fault.kind === 'duplicate') continue;
      if (expected === null) refused += 1;
      else taken += 1;
      expect(JSON.stringify(found), text).toBe(JSON.stringify(expected));
    }
    expect(Math.min(refused, taken)).toBeGreaterThan(500);
  });

  it('says the line of what is no JSON, within an element, after the list and before it', () => {
    const lineOf = (text: string): number | undefined => readGeojsonTable(text, 'x').problems[0]?.where?.line;
    expect(lineOf('{"type":"FeatureCollection",\n"features":[\n{"a":1},\n{"a" 1}\n]}')).toBe(4);
    expect(lineOf('{"type":"FeatureCollection",\n"features":[\n{"a":1}\n],\n"b" 1}')).toBe(5);
    expect(lineOf('{"type" "FeatureCollection",\n"features":[\n{"a":1}\n]}')).toBe(1);
    expect(lineOf('{"type":"FeatureCollection","features":[\n{},\n,\n{}]}')).toBe(3);
  });

  it('keeps the digits of ids and properties, and of nothing else', () => {
    const text = '{"features":[{"id":90071992547409931,"n":1.50,"properties":{"h":1.50,"k":2.5,"l":[1.50]}}]}';
    expect(whole(text)).toEqual({
      features: [{ id: '90071992547409931', n: 1.5, properties: { h: '1.50', k: 2.5, l: [1.5] } }],
    });
    expect(whole('{"features":[{"properties":{"h":00}}]}')).toBeNull();
  });

  it('says the same however the text is cut into pieces', () => {
    const random = seededRandom(61);
    const texts = [
      '{"type":"é\\\\","features":[{"id":-12.50e3,"a":"q\\"]"} , {"ü":{"d":1.0}}],"n":{"m":[true,1.25]},"o":7}',
      '{"features":[{"a":1,"a":2}]}',
      '{"x":"\\\\\\"","points":[1,2,3],"features":[ ]}',
      '{"features":[{"a" 1}]}',
      '{"features":["never ends\\',
      '12345',
    ];
    for (const text of texts) {
      const bytes = Buffer.from(text);
      for (let round = 0; round < 200; round += 1) {
        const splitter = createJsonSplitter(['features', 'points'], 128, Infinity);
        const most = 1 + random.index(7);
        for (let at = 0; at < bytes.length;) {
          const next = Math.min(bytes.length, at + 1 + random.index(most));
          splitter.push(bytes.subarray(at, next));
          at = next;
        }
        expect(partsOf(splitter.finish(bytesInMemory(bytes)))).toEqual(
          partsOf(splitJson(text, ['features', 'points'], 128)),
        );
      }
    }
  });

  it('says without what it is needed, and how much that is at least, where it is more than allowed', () => {
    const inFrame = createJsonSplitter(['features'], 128, 1000);
    const inElement = createJsonSplitter(['features'], 128, 1000);
    const begin = Buffer.from('{"features":["');
    inElement.push(begin);
    for (let piece = 0; piece < 100; piece += 1) {
      inFrame.push(Buffer.alloc(100, 32));
      inElement.push(Buffer.alloc(100, 97));
    }
    for (const splitter of [inFrame, inElement]) {
      const found = splitter.finish({ length: 10_000, memoryBytes: 0, slice: () => Buffer.alloc(0) });
      expect(found).toMatchObject({ frame: undefined });
      expect('bytes' in found && found.bytes > 1000 && found.bytes < 1400).toBe(true);
    }
  });

  it('ends with any text', () => {
    for (const text of [
      '',
      '"',
      '"\\',
      '"\\"',
      '[[[',
      ']]]',
      '{"features":["',
      '{"features":[[',
      '{"features":[{"a":1,',
    ])
      expect(split(text)).toHaveProperty('fault.kind', 'syntax');
  });
});

describe('readFeatures', () => {
  const pair = '{"a":[1,2]}';

  it('reckons what it holds at once: the text, the spans, and the largest element unpacked', () => {
    const text = collection([pair, '{"a":[1,2,3,4,5]}', '{}'].join(','));
    // Frame: two objects or lists and one comma; three spans; an object with a list, four commas and the one after it.
    const needed = text.length + (2 * 64 + 16) + 3 * 8 + (2 * 64 + 5 * 16);
    expect(split(text)).toMatchObject({ bytes: needed });
    expect(codesOf(readFeatures(text, 'x', Math.floor(needed / 0.75) - 1))).toEqual(['file-too-large']);
    expect(readFeatures(text, 'x', Math.ceil(needed / 0.75) + 1).ok).toBe(true);
  });

  it('holds no more for a million empty features than their text and spans', () => {
    const count = 1_000_000;
    const parts = split(collection(Array.from({ length: count }, () => '{}').join(',')));
    expect('bytes' in parts ? parts.bytes : 0).toBeLessThan(11.1 * count);
  });

  it('refuses what is nested without end', () => {
    expect(codesOf(readFeatures('['.repeat(1_000_000), 'x'))).toEqual(['geojson-structure']);
  });

  it('tells a thousand features that are none, and no more', () => {
    expect(readGeojsonTable(collection(Array.from({ length: 3000 }, () => '{}').join(',')), 'x').problems).toHaveLength(
      1000,
    );
  });

  it('refuses more names of properties than it has columns for, at the first beyond', () => {
    const feature = (index: number): string =>
      `{"type":"Feature","geometry":{"type":"Point","coordinates":[15,47]},"properties":{"n${String(index)}":1}}`;
    const features = (count: number): string =>
      collection(Array.from({ length: count }, (_, i) => feature(i)).join(','));
    expect(readGeojsonTable(features(2000), 'x').ok).toBe(true);
    const [problem] = readGeojsonTable(features(2001), 'x').problems;
    expect(problem).toMatchObject({
      code: 'geojson-structure',
      where: { path: 'features[2000].properties.n2000' },
    });
  });

  it('counts the lines of a text of line ends', () => {
    expect(readFeatures('\n'.repeat(1000), 'x').problems[0]?.where?.line).toBe(1001);
  });
});
