import { describe, expect, it } from 'vitest';
import { createCauseDays } from '../../../../tools/cause-days.mjs';
import { CLARKE_1880_ARC, WGS84 } from '../../../../src/core/geodesy/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../../src/core/geodesy/geocentric.js';
import { createGeodesic } from '../../../../src/core/geodesy/geodesic.js';
import { localFrameAt, localToGeocentric } from '../../../../src/core/geodesy/local-frame.js';
import { movePoint } from '../../../../src/core/geodesy/plate-motion.js';
import { PLATE_POLES } from '../../../../src/core/geodesy/plate-pole.js';
import { buildGridSystem } from '../../../../src/core/grid/build-grid-system.js';
import { definitionFromProjString } from '../../../../src/core/grid/definition-from-proj-string.js';
import { createPrecisionModel } from '../../../../src/core/planning/precision-model.js';
import { CAUSE_TEXTS } from '../../../../src/core/quality/cause/cause-ids.js';
import { likelyCause } from '../../../../src/core/quality/cause/likely-cause.js';
import { textOf } from '../../../support/repository-files.js';

// A smaller run of tools/cause-rates.mjs, on the sources: the same invented days, fewer of them.
const days = createCauseDays({ CLARKE_1880_ARC, PLATE_POLES, WGS84, buildGridSystem, createGeodesic, createPrecisionModel, definitionFromProjString, geocentricToGeodetic, geodeticToGeocentric, localFrameAt, localToGeocentric, movePoint });
const RUNS = 30;
/** Named first in fewer than this many of 30 has a chance below one in a thousand where the true rate is 95 %. */
const LEAST_FIRST = 24;
/** Too small to be seen on an ordinary day; the table says so. */
const NOT_SEEN = ['slant-height-far'];

const PAGE = textOf('docs/methods/likely-cause.md');
const published = new Map([...PAGE.matchAll(/^\| ([a-z-]+) \| [\d., ]+ [a-z]+ \| ([\d., %]+) \| [\d., %]+ \|$/gmu)].map(([, name = '', firsts = '']) => [name, firsts.split(', ').map((text) => Number(text.replace(' %', '')))]));

describe('the rates at which causes are named', () => {
  it('are published for every cause there is, at three sizes each', () => {
    expect([...published.keys()].sort()).toEqual(days.causes.map(({ name }) => name).sort());
    for (const cause of Object.keys(CAUSE_TEXTS)) expect(published.get(cause), cause).toHaveLength(3);
  });

  it.each([...published].filter(([name]) => !NOT_SEEN.includes(name)))('are published as 90 %% or more at the largest size for %s', (_, firsts) => {
    expect(firsts.at(-1)).toBeGreaterThanOrEqual(90);
  });

  it('are published as less than 2 % on days without a mistake', () => {
    expect(Number(/a cause named: ([\d.]+) %/u.exec(PAGE)?.[1])).toBeLessThan(2);
  });

  it.each(days.causes.filter(({ name }) => !NOT_SEEN.includes(name)))('hold for $name at its largest size', ({ name, cause, sizes }) => {
    let first = 0;
    for (let seed = 1; seed <= RUNS; seed += 1) {
      const report = likelyCause(days.planted(name, sizes.at(-1) ?? 0, 50_000 + seed));
      if (report?.verdict === 'named' && report.findings[0]?.cause === cause) first += 1;
    }
    expect(first).toBeGreaterThanOrEqual(LEAST_FIRST);
  });

  it('hold for days without a mistake: none of 300 has a cause named', () => {
    let named = 0;
    for (let seed = 1; seed <= 300; seed += 1) if (likelyCause(days.clean(90_000 + seed))?.verdict === 'named') named += 1;
    expect(named).toBeLessThan(6);
  });
});
