import { describe, expect, it } from 'vitest';
import { createRowWriter } from '../../../src/cli/outputs/row-writer.js';
import { DEFAULT_CSV_WRITE } from '../../../src/io/csv/csv-write.js';

describe('rows written as GeoJSON', () => {
  // 2026-11-25: a point whose place could not be computed was drawn at 0, 0.
  it('have no geometry where the place is not known', () => {
    const writer = createRowWriter(
      'geojson',
      [{ name: 'point_id', kind: 'text' }],
      { frame: 'EPSG:4148', epochYear: null, system: 'EPSG:2049' },
      DEFAULT_CSV_WRITE,
    );
    const text =
      writer.begin() +
      writer.rows([{ cells: ['A'], latitudeDeg: null, longitudeDeg: null, ellipsoidalHeightM: null }]) +
      writer.end({});
    const { features } = JSON.parse(text) as { features: { geometry: unknown; properties: { point_id: string } }[] };
    expect(features[0]?.geometry).toBeNull();
    expect(features[0]?.properties.point_id).toBe('A');
  });
});
