import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { findSystems } from '../../../src/files/systems/find-systems.js';

const HAS_PROJINFO = spawnSync('projinfo', ['EPSG:4326']).status === 0;
/** In the registry since, and not in the database of every PROJ that is about. */
const NEWER = ['EPSG:20062', 'EPSG:20063'];

const PLACES = [
  [47, 15],
  [-17.5, 178.5],
  [35.7, 139.7],
  [51.5, -0.1],
  [64.1, -21.9],
  [-31.5, 21.4],
  [52, 179.9],
  [-77.9, 166.7],
] as const;

describe('find-system --at', () => {
  it('finds more than ten projected systems anywhere', () => {
    for (const [latitudeDeg, longitudeDeg] of PLACES)
      expect(
        findSystems({ words: [], place: { latitudeDeg, longitudeDeg }, kind: 'projected' }).length,
      ).toBeGreaterThan(10);
  });

  // PROJ, projinfo --list-crs with a box of 0.002 degrees (its own database of the registry).
  it.skipIf(!HAS_PROJINFO).each(PLACES)(
    'finds at %s, %s what projinfo finds in its own database of the registry (skipped without PROJ)',
    (latitudeDeg, longitudeDeg) => {
      const ours = findSystems({ words: [], place: { latitudeDeg, longitudeDeg }, kind: 'projected' }).map(
        ({ definition }) => definition.code ?? '',
      );
      const box = [longitudeDeg - 0.001, latitudeDeg - 0.001, longitudeDeg + 0.001, latitudeDeg + 0.001];
      const { stdout } = spawnSync(
        'projinfo',
        [
          '--list-crs',
          'projected',
          '--bbox',
          box.map((value) => value.toFixed(4)).join(','),
          '--spatial-test',
          'intersects',
        ],
        { encoding: 'utf8' },
      );
      const theirs = [...stdout.matchAll(/^(EPSG:\d+) /gmu)].map(([, code = '']) => code);
      expect(theirs.length).toBeGreaterThan(10);
      expect(ours.filter((code) => !NEWER.includes(code)).sort()).toEqual(
        theirs.filter((code) => !NEWER.includes(code)).sort(),
      );
    },
  );

  it('puts those that a command takes before those that it does not, and says why not', () => {
    const found = findSystems({ words: ['portugal', 'bonne'], place: null, kind: null });
    expect(found.map(({ isSupported }) => isSupported)).toEqual(
      [...found].map(({ isSupported }) => isSupported).sort((a, b) => Number(b) - Number(a)),
    );
    expect(found.find(({ definition }) => definition.code === 'EPSG:2963')?.whyNot).toContain(
      'Bonne (South Orientated)',
    );
  });
});
