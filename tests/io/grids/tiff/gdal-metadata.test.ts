import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gdalMetadata } from '../../../../src/io/grids/tiff/gdal-metadata.js';

describe('gdalMetadata', () => {
  it('reads items of the image and of its samples, with either quotes and entities', () => {
    const of = gdalMetadata(
      `<GDALMetadata>\n<Item name="TYPE">HORIZONTAL_OFFSET</Item>\n  <Item name='DESCRIPTION' sample='1' role="description">a &lt;b&gt; &amp; &nbsp;</Item></GDALMetadata>`,
    );
    expect({ ...of(null) }).toEqual({ TYPE: 'HORIZONTAL_OFFSET' });
    expect({ ...of(1) }).toEqual({ DESCRIPTION: 'a <b> & &nbsp;' });
    expect(of(0)).toEqual({});
  });

  it('passes over what is no item', () => {
    expect(gdalMetadata('<Item>x</Item><Item name="A" sample="x">1</Item><Item name="B">2')(null)).toEqual({});
    expect({ ...gdalMetadata('<Item name="__proto__">1</Item>')(null) }).toEqual(
      Object.fromEntries([['__proto__', '1']]),
    );
  });

  it('takes time in proportion to any text', () => {
    // With time in the square of the text, this would not end.
    expect(gdalMetadata('<Item name="a" '.repeat(200_000))(null)).toEqual({});
    expect(gdalMetadata('<Item>'.repeat(400_000))(null)).toEqual({});
    fc.assert(fc.property(fc.string(), (text) => typeof gdalMetadata(text)(null) === 'object'));
  });
});
