import { describe, expect, it } from 'vitest';
import { readFeatures, readGeojsonTable } from '../../../src/io/geojson/geojson-table.js';
import { splitJson } from '../../../src/io/documents/json-split.js';
import { seededRandom } from '../../support/seeded-random.js';

const collection = (features: string): string => `{"type":"FeatureCollection","features":[${features}]}`;
const codesOf = ({ problems }: { readonly problems: readonly { readonly code: string }[] }): readonly string[] =>
  problems.map(({ code }) => code);
const split = (text: string): ReturnType<typeof splitJson> => splitJson(text, ['features'], 128);

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
