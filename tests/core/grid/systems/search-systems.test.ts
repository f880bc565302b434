import { describe, expect, it } from 'vitest';
import { searchSystems } from '../../../../src/core/grid/systems/search-systems.js';
import type { SystemDefinition, SystemKind } from '../../../../src/core/projection/definition/system-definition.js';

const system = (
  code: number,
  name: string,
  kind: SystemKind,
  description: string,
  box: readonly [number, number, number, number] | null,
): SystemDefinition => ({
  code: `EPSG:${String(code)}`,
  name,
  kind,
  proj4: null,
  wkt: null,
  unitName: 'metre',
  areaOfUse:
    box === null ? null : { southDeg: box[0], westDeg: box[1], northDeg: box[2], eastDeg: box[3], description },
  accuracyM: null,
});

// Invented systems.
const LIST = [
  system(10, 'Quill / Lo21', 'projected', 'Quill Land - onshore.', [-35, 20, -24, 22]),
  system(2, 'Quill', 'geographic', 'Quill Land; São Pedro.', [-50, 13, -22, 43]),
  system(3, 'World / Quill strip 34S', 'projected', 'World.', [-80, 18, 0, 24]),
  system(4, 'Línea / zone 1', 'projected', 'Dateline isles.', [50, 174, 56, -174]),
  system(5, 'Quill height', 'other', 'Quill Land.', [-35, 20, -24, 22]),
  system(21, 'Nowhere', 'projected', '', null),
];
const codes = (words: string, at: readonly [number, number] | null = null, kind: SystemKind | null = null): string =>
  searchSystems(LIST, {
    words: words === '' ? [] : words.split(' '),
    place: at === null ? null : { latitudeDeg: at[0], longitudeDeg: at[1] },
    kind,
  })
    .map(({ code }) => (code ?? '').slice(5))
    .join(' ');

describe('searchSystems', () => {
  it('asks for every word, at the beginning of a word, without case and accents, letters and digits apart', () => {
    expect(codes('LO21')).toBe('10');
    expect(codes('lo 21')).toBe('10');
    expect(codes('linea')).toBe('4');
    expect(codes('sao')).toBe('2');
    expect(codes('uill')).toBe('');
    expect(codes('quill nothing')).toBe('');
  });

  it('puts words of the name before those of the area, projected before others, small areas before large', () => {
    expect(codes('quill')).toBe('10 3 2 5');
    expect(codes('land')).toBe('10 2 5');
  });

  it('knows a code', () => {
    expect(codes('21')).toBe('21 10');
  });

  it('takes those whose area holds a place, over the 180th meridian too; one without an area holds none', () => {
    expect(codes('', [-31.5, 21.4])).toBe('10 3 2 5');
    expect(codes('', [52, 179.9])).toBe('4');
    expect(codes('', [52, -179.9])).toBe('4');
    expect(codes('', [52, 0])).toBe('');
    expect(codes('', [-31.5, 21.4], 'geographic')).toBe('2');
  });
});
