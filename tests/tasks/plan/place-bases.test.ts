import { describe, expect, it } from 'vitest';
import { oneCentre } from '../../../src/core/planning/siting/one-centre.js';
import type { Outcome } from '../../../src/records/outcome.js';
import { placeBases } from '../../../src/tasks/plan/place-bases.js';
import { createRangeFinder } from '../../../src/tasks/plan/targets/range-finder.js';
import { seededRandom } from '../../support/seeded-random.js';
import { candidate, choice, geodesic, PREDICTION, setupOf, target } from './plan-fixture.js';

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

describe('placeBases', () => {
  it('leaves a given base where it is and lets it serve every target', () => {
    const placed = valueOf(
      placeBases(
        setupOf({ kind: 'given', base: { id: 'base', latitudeDeg: 1, longitudeDeg: 2, ellipsoidalHeightM: null } }),
        [target('a', 1, 2), target('b', 1.1, 2)],
      ),
    );
    expect(placed.bases.map(({ id }) => id)).toEqual(['base']);
    expect([...placed.baseOf]).toEqual([0, 0]);
  });

  it('finds the free place that oneCentre finds for the usable range of each target, over the 180th meridian too', () => {
    const targets = [
      target('a', -17, 179.9),
      target('b', -17.2, -179.8, { toleranceHorizontalM: 0.04 }),
      target('c', -16.9, -179.9),
    ];
    const finder = createRangeFinder(PREDICTION, 'normal', false);
    const ranges = Float64Array.from(
      targets,
      (one) => finder.at(one.toleranceHorizontalM, one.toleranceVerticalM, null).rangeM,
    );
    const centre = valueOf(oneCentre(geodesic, targets, ranges));
    const placed = valueOf(placeBases(setupOf({ kind: 'free' }), targets));
    expect(placed.bases[0]?.latitudeDeg).toBe(centre.latitudeDeg);
    expect(placed.bases[0]?.longitudeDeg).toBe(centre.longitudeDeg);
    expect(placed.found).toMatchObject({
      kind: 'free',
      worstRatio: centre.worstRatio,
      support: centre.support.map((index) => targets[index]?.id),
    });
  });

  it('gives targets whose tolerance no distance meets no say in the place, unless all are such', () => {
    const near = [target('a', -31, 21), target('b', -31, 21.2)];
    const hopeless = target('far', -31, 23, { toleranceHorizontalM: 0.001 });
    const without = valueOf(placeBases(setupOf({ kind: 'free' }), near));
    const withIt = valueOf(placeBases(setupOf({ kind: 'free' }), [...near, hopeless]));
    expect(withIt.bases).toEqual(without.bases);
    expect(withIt).toMatchObject({ withoutRange: 1, equalRanges: false });
    const all = valueOf(
      placeBases(
        setupOf({ kind: 'free' }),
        [...near, hopeless].map((one) => ({ ...one, toleranceHorizontalM: 0.001 })),
      ),
    );
    expect(all).toMatchObject({ withoutRange: 3, equalRanges: true });
    // With equal ranges the place halves the longest line: a to far.
    expect(all.bases[0]?.longitudeDeg).toBeCloseTo(22, 6);
  });

  it('leaves out candidates that do not meet the demands, with the reason, and fails when none is left', () => {
    const places = [
      candidate('dead', -31, 21, { cellular: false }),
      candidate('unknown', -31, 21.01),
      candidate('good', -31, 21.2, { cellular: true }),
    ];
    const demands = { cellular: true, minSkyScore: null, maxCost: null };
    const placed = valueOf(
      placeBases(setupOf({ kind: 'best', ...choice(places, { demands }) }), [target('a', -31, 21)]),
    );
    expect(placed.bases.map(({ id }) => id)).toEqual(['good']);
    expect(placed.excluded).toEqual([
      { id: 'dead', reason: 'no-cellular' },
      { id: 'unknown', reason: 'cellular-unknown' },
    ]);
    const none = placeBases(setupOf({ kind: 'best', ...choice(places.slice(0, 2), { demands }) }), [
      target('a', -31, 21),
    ]);
    expect(none.ok ? [] : none.problems.map(({ code }) => code)).toEqual(['value-missing']);
  });

  it('lets sky score, cost and name decide between places as good as equal, whatever their order', () => {
    const places = [
      candidate('z', -31, 21.1, { skyScore: 5 }),
      candidate('b', -31, 21.1, { skyScore: 9, cost: 10 }),
      candidate('a', -31, 21.1, { skyScore: 9, cost: 20 }),
    ];
    for (const order of [places, [...places].reverse()]) {
      const placed = valueOf(placeBases(setupOf({ kind: 'best', ...choice(order) }), [target('a', -31, 21)]));
      expect(placed.found.kind === 'best' ? placed.found.ranking.map((rank) => rank.candidate.id) : []).toEqual([
        'b',
        'a',
        'z',
      ]);
    }
  });

  it('counts the height difference of each pair: a nearer place 1500 m lower serves worse than one on the level', () => {
    const places = [
      candidate('valley', -31, 21.1, { ellipsoidalHeightM: 0 }),
      candidate('level', -31, 21.15, { ellipsoidalHeightM: 1500 }),
    ];
    const targets = [target('a', -31, 21, { ellipsoidalHeightM: 1500 })];
    const level = valueOf(placeBases(setupOf({ kind: 'best', ...choice(places) }), targets));
    expect(level.bases[0]?.id).toBe('level');
    const blind = valueOf(
      placeBases(
        setupOf({ kind: 'best', ...choice(places) }),
        targets.map((one) => ({ ...one, ellipsoidalHeightM: null })),
      ),
    );
    expect(blind.bases[0]?.id).toBe('valley');
  });

  it('refuses more bases than candidates', () => {
    const placed = placeBases(setupOf({ kind: 'k', k: 3, ...choice([candidate('a', 0, 0), candidate('b', 0, 1)]) }), [
      target('p', 0, 0),
    ]);
    expect(placed.ok ? [] : placed.problems.map(({ code }) => code)).toEqual(['usage-invalid']);
  });

  it('chooses K bases no worse than every subset, with heights in play', () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const random = seededRandom(seed);
      const height = (): number => random.between(0, 900);
      const targets = Array.from({ length: 14 }, (_, index) =>
        target(`p${index}`, random.between(-32, -31), random.between(21, 22), { ellipsoidalHeightM: height() }),
      );
      const places = Array.from({ length: 7 }, (_, index) =>
        candidate(`c${index}`, random.between(-32, -31), random.between(21, 22), { ellipsoidalHeightM: height() }),
      );
      const finder = createRangeFinder(PREDICTION, 'normal', true);
      const ratio = (c: (typeof places)[number], p: (typeof targets)[number]): number =>
        geodesic.distanceM(c.latitudeDeg, c.longitudeDeg, p.latitudeDeg, p.longitudeDeg) /
        finder.at(
          p.toleranceHorizontalM,
          p.toleranceVerticalM,
          (p.ellipsoidalHeightM ?? 0) - (c.ellipsoidalHeightM ?? 0),
        ).rangeM;
      for (const k of [1, 2, 3]) {
        let least = Infinity;
        for (let mask = 1; mask < 2 ** places.length; mask += 1) {
          const subset = places.filter((_, index) => (mask & (1 << index)) !== 0);
          if (subset.length !== k) continue;
          least = Math.min(least, Math.max(...targets.map((p) => Math.min(...subset.map((c) => ratio(c, p))))));
        }
        const placed = valueOf(placeBases(setupOf({ kind: 'k', k, ...choice(places) }), targets));
        expect(placed.found).toMatchObject({ kind: 'k', exact: true });
        expect(placed.found.kind === 'k' ? placed.found.worstRatio : NaN, `seed ${seed}, K ${k}`).toBeCloseTo(
          least,
          12,
        );
      }
    }
  });

  it('serves with the fewest bases, names who is out of reach, and ties neighbours by shared targets', () => {
    const places = [candidate('west', 0, 0), candidate('east', 0, 0.5), candidate('spare', 0, 0.02)];
    const targets = [
      target('w', 0, 0.01),
      target('m1', 0, 0.25),
      target('m2', 0.01, 0.25),
      target('m3', -0.01, 0.25),
      target('e', 0, 0.55),
      target('lost', 5, 5),
    ];
    const placed = valueOf(placeBases(setupOf({ kind: 'fewest', ...choice(places) }), targets));
    expect(placed.found).toMatchObject({ kind: 'fewest', exact: true, unserved: ['lost'] });
    expect(placed.bases).toHaveLength(2);
    expect(placed.ties).toHaveLength(1);
    expect(placed.ties[0]).toMatchObject({ enough: true });
    expect([...(placed.ties[0]?.targets ?? [])].sort()).toEqual([1, 2, 3]);
  });

  it('falls back to the best single place when nobody can be served at all', () => {
    const placed = valueOf(
      placeBases(setupOf({ kind: 'fewest', ...choice([candidate('far', 0, 5), candidate('farther', 0, 6)]) }), [
        target('p', 0, 0),
      ]),
    );
    expect(placed.bases.map(({ id }) => id)).toEqual(['far']);
    expect(placed.found).toMatchObject({ unserved: ['p'] });
  });
});
