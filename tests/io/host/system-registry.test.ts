import { describe, expect, it } from 'vitest';
import { loadSystemDefinition } from '../../../src/io/host/system-registry.js';

function failureOf(text: string): { code: string; message: string; hint: string | undefined } {
  const found = loadSystemDefinition(text);
  if (found.ok) throw new Error(`${text} was found`);
  const [problem] = found.problems;
  return { code: problem!.code, message: problem!.message, hint: problem!.hint };
}

describe('loadSystemDefinition', () => {
  it('loads an entry of the registry with its area the right way round', () => {
    const found = loadSystemDefinition('EPSG:2053');
    expect(found.ok && found.value).toMatchObject({
      code: 'EPSG:2053',
      name: 'Hartebeesthoek94 / Lo29',
      kind: 'projected',
      unitName: 'metre',
      accuracyM: 1,
      areaOfUse: { southDeg: -33.03, westDeg: 27.99, northDeg: -22.13, eastDeg: 30.01 },
    });
  });
  it('takes the authority in any case, and blanks around', () => {
    const found = loadSystemDefinition(' epsg:4326 ');
    expect(found.ok && [found.value.code, found.value.kind]).toEqual(['EPSG:4326', 'geographic']);
  });
  it('tells the kinds apart', () => {
    const kindOf = (text: string): string => {
      const found = loadSystemDefinition(text);
      return found.ok ? found.value.kind : 'not found';
    };
    expect(['EPSG:4979', 'EPSG:4978', 'EPSG:5773', 'EPSG:7415'].map(kindOf)).toEqual([
      'geographic',
      'geocentric',
      'other',
      'other',
    ]);
    expect(['+proj=longlat +ellps=WGS84', '+proj=utm +zone=31 +ellps=WGS84'].map(kindOf)).toEqual([
      'geographic',
      'projected',
    ]);
  });
  it('suggests the nearest codes for one that does not exist', () => {
    const found = failureOf('EPSG:2155');
    expect(found.code).toBe('system-unknown');
    expect(found.message).toBe('no system has the code EPSG:2155');
    expect(found.hint).toContain('EPSG:2154');
  });
  it("does not take codes of another authority for the registry's", () => {
    expect(failureOf('EPSG:102001').code).toBe('system-unknown');
    expect(failureOf('EPSG:900913').code).toBe('system-unknown');
  });
  it('asks for the authority where only a number is given, and refuses other text', () => {
    expect(failureOf('2053').hint).toBe('write EPSG:2053');
    for (const text of ['EPSG:', 'EPSG:02053', 'EPSG:20x', 'WGS84', '', '../4326'])
      expect(failureOf(text).code).toBe('system-unknown');
  });
  it('reads a PROJ string strictly', () => {
    expect(failureOf('+proj=tmerc +lonn_0=29 +ellps=WGS84').code).toBe('system-definition-invalid');
  });
});
