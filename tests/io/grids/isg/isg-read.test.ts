import { describe, expect, it } from 'vitest';
import { createGeoidHeight } from '../../../../src/core/geoid/geoid-height.js';
import { readIsg } from '../../../../src/io/grids/isg/isg-read.js';
import { isgText, NODE_BOUNDS } from '../../../support/isg-example.js';
import type { IsgChange } from '../../../support/isg-example.js';
import { codes, value } from '../../support.js';

const read = (text: string) => readIsg(Buffer.from(text, 'utf8'));
const levelOf = (change: IsgChange) => value(read(isgText(change))).levels[0]!;

describe('readIsg', () => {
  it('takes bounds at the edges of cells half a step inwards (ISG, format 2.0, example 1)', () => {
    const level = levelOf({});
    expect(level.southDeg).toBeCloseTo(40, 12);
    expect(level.westDeg).toBeCloseTo(120, 12);
    expect(level.latitudeStepDeg).toBeCloseTo(1 / 3, 12);
    expect(level.values[3 * 6]).toBe(30.1234);
    expect(level.values[0]).toBe(61.9999);
    expect(level.values[5]).toBeNaN();
  });

  it('takes bounds at nodes as they are, and gives the same grid (ISG, format 2.0, example 2)', () => {
    const [edges, nodes] = [levelOf({}), levelOf(NODE_BOUNDS)];
    expect(nodes.southDeg).toBe(40);
    expect(nodes.westDeg).toBe(120);
    expect(nodes.longitudeStepDeg).toBeCloseTo(edges.longitudeStepDeg, 6);
    expect(nodes.values).toEqual(edges.values);
  });

  it('gives no height beside a node without data', () => {
    const grid = { name: 'x', sha256: null, ...value(read(isgText())) };
    const model = value(createGeoidHeight(grid, 'bilinear'));
    expect(model.statusAt(40.2, 121.2)).toBe('nodata');
    expect(model.heightAt(40 + 1 / 3, 121)).toBeCloseTo(54.8642, 9);
  });

  it('reads the frame from the code of the header, and none where there is none', () => {
    expect(value(read(isgText())).frame).toBe('EPSG:7912');
    expect(value(read(isgText({ 'EPSG code': '---' }))).frame).toBeNull();
    expect(value(read(isgText({ 'EPSG code': undefined }))).frame).toBeNull();
  });

  it('turns feet into metres', () => {
    const level = value(read(isgText({ 'data units': 'feet' }))).levels[0]!;
    expect(level.values[3 * 6]).toBeCloseTo(30.1234 * 0.3048, 12);
    expect(level.values[5]).toBeNaN();
  });

  it('reads any spacing round : and =, any case of keys, other line ends and a degree sign of another encoding', () => {
    const text = isgText()
      .replaceAll(/ *([:=]) +/gu, '$1')
      .replace('nrows', 'NROWS')
      .replaceAll('\n', '\r\n');
    expect(value(readIsg(Buffer.from(text, 'latin1'))).levels[0]?.rows).toBe(4);
  });

  it('takes a grid without a no-data value', () => {
    const nodes = ['1 2 3', '4 5 6'];
    const change = {
      ...NODE_BOUNDS,
      nodata: '---',
      nrows: '2',
      ncols: '3',
      'lat max': '40.333333',
      'lon max': '120.666667',
    };
    expect(Array.from(value(read(isgText(change, nodes))).levels[0]!.values)).toEqual([4, 5, 6, 1, 2, 3]);
  });

  it.each([
    ['a sparse model', { 'data format': 'sparse' }],
    ['a projected model', { 'coord type': 'projected' }],
    ['another kind of data', { 'data type': 'gravity anomaly' }],
    ['another order', { 'data ordering': 'S-to-N, W-to-E' }],
    ['another version', { 'ISG format': '1.01' }],
    ['an unknown unit', { 'data units': 'fathoms' }],
  ])('refuses %s as unsupported, with the line', (_name, change) => {
    const outcome = read(isgText(change));
    expect(codes(outcome)).toEqual(['grid-unsupported']);
    expect(outcome.problems[0]?.where?.line).toBeGreaterThan(2);
  });

  it.each<[string, IsgChange]>([
    ['bounds that fit neither convention', { 'lat max': `41°00'00"`, 'lat min': `39°30'00"` }],
    ['bounds a step too wide', { 'lat max': `41°30'00"` }],
    ['latitudes at edges and longitudes at nodes', { 'lon min': `120°00'00"`, 'lon max': `121°40'00"` }],
    ['bounds the wrong way round', { 'lat min': `41°10'00"`, 'lat max': `39°50'00"` }],
    ['a step that is no angle', { 'delta lat': 'twenty' }],
    ['degrees where degrees, minutes and seconds are promised', { 'lat min': '39.8' }],
    ['a missing bound', { 'lon max': undefined }],
    ['a missing count', { nrows: undefined }],
    ['a missing version', { 'ISG format': undefined }],
    ['a count that is no number', { ncols: 'six' }],
    ['a no-data value that is no number', { nodata: 'none' }],
  ])('refuses %s as unreadable', (_name, change) => {
    expect(codes(read(isgText(change)))).toEqual(['grid-unreadable']);
  });

  it('refuses a key given twice and a header line without key, with the line', () => {
    expect(read(isgText().replace('nrows ', 'ncols ')).problems[0]?.message).toContain('twice');
    expect(read(isgText().replace('end_of_head', 'scribble\nend_of_head')).problems[0]?.where?.line).toBe(25);
  });

  it('refuses a file without a header, and one whose header does not end', () => {
    expect(codes(read('30.1 30.2\n'))).toEqual(['grid-unreadable']);
    expect(codes(read(isgText().replace('end_of_head', 'end')))).toEqual(['grid-unreadable']);
  });

  it('refuses too few values, too many, and one that is no number, naming its line', () => {
    const lines = isgText().trimEnd().split('\n');
    expect(read(lines.slice(0, -1).join('\n')).problems[0]?.message).toContain('fewer');
    expect(read([...lines, '1.0'].join('\n')).problems[0]?.message).toContain('more');
    const broken = read([...lines.slice(0, -1), '61.9 62.8 6E.7 64.6 1 1'].join('\n'));
    expect(broken.problems[0]).toMatchObject({
      code: 'grid-unreadable',
      received: '6E.7',
      where: { line: lines.length },
    });
  });

  it('refuses a header that claims more nodes than the file has characters', () => {
    const change = {
      ...NODE_BOUNDS,
      nrows: '10001',
      ncols: '10001',
      'delta lat': '0.0001',
      'delta lon': '0.0001',
      'lon max': '121.000000',
    };
    expect(read(isgText(change)).problems[0]?.message).toContain('fewer');
  });
});
