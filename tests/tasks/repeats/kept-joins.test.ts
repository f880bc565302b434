import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { prepareReduction } from '../../../src/files/reduction/prepare-reduction.js';
import { readFixesFile } from '../../../src/files/reduction/read-fixes-file.js';
import { readSessionFile } from '../../../src/files/sessions/read-session-file.js';
import { createReducer } from '../../../src/tasks/reduce/reduce-points.js';
import type { ReducedPoint } from '../../../src/records/points/reduced-point.js';
import { combinePoints } from '../../../src/tasks/repeats/combine-points.js';
import type { ReductionSetup } from '../../../src/tasks/reduce/reduction-setup.js';
import { keptRecord } from '../../support/kept-record.js';
import { valueOf } from '../../support/shift-of-row.js';

// Regression, kept whole: the occupations of the example joined as they are and with one thing changed and another. Whether joining
// is right is what tests/core/observation/repeats holds.

const folder = fileURLToPath(new URL('../../../examples/quillback-pan/', import.meta.url));
const session = valueOf(await readSessionFile(`${folder}session.toml`));
const reduction = valueOf(await prepareReduction(session, [`${folder}fixes.csv`]));
const reduced: ReducedPoint[] = [];
const reducer = createReducer(reduction.setup, {
  onPoint: ({ point }) => reduced.push(point),
  onProblems: () => undefined,
});
const fixes = valueOf(await readFixesFile(`${folder}fixes.csv`, reduction));
for await (const block of fixes.blocks()) reducer.push(valueOf(block).fixes);
reducer.finish();

const of = (id: string): readonly ReducedPoint[] => reduced.filter(({ pointId }) => pointId === id);
/** QP-03 was given wrong integers in one of its occupations. */
const repeated = ['QP-02', 'QP-03', 'QP-04', 'C-01'].flatMap(of);
const HOUR_MS = 3_600_000;

type Change = (point: ReducedPoint, index: number) => Partial<ReducedPoint>;
const CASES: Readonly<Record<string, readonly [Change, Partial<ReductionSetup>]>> = {
  'as they are': [() => ({}), {}],
  'one without a coordinate': [
    (_, index) => (index === 0 ? { position: null, uncertainty: null, summary: null } : {}),
    {},
  ],
  'no times': [() => ({ firstEpochMs: null, lastEpochMs: null }), {}],
  'some times': [(_, index) => (index % 3 === 0 ? { firstEpochMs: null, lastEpochMs: null } : {}), {}],
  'all at once': [
    (_, index) => ({ firstEpochMs: HOUR_MS + 1000 * index, lastEpochMs: HOUR_MS + 1000 * index + 500 }),
    {},
  ],
  'all at once, with tolerances that joining meets': [
    (_, index) => ({ firstEpochMs: HOUR_MS + 60_000 * index, lastEpochMs: HOUR_MS + 60_000 * index + 500 }),
    { tolerance: { horizontalM: 0.03, verticalM: 0.05 } },
  ],
  'tolerances that nothing meets': [() => ({}), { tolerance: { horizontalM: 0.001, verticalM: 0.001 } }],
  'a tolerance in plan': [
    () => ({ reasons: ['point-horizontal-95', 'point-drift'] }),
    { tolerance: { horizontalM: 0.02, verticalM: null } },
  ],
  'a base that no row names, and one that nobody describes': [
    (_, index) => ({ baseId: index % 2 === 0 ? null : 'Z', setupKey: index % 2 === 0 ? null : 'Z' }),
    {},
  ],
};

describe('occupations, as they were joined', () => {
  it('are of points that were occupied twice', () => {
    expect(repeated.map(({ pointId, occupation }) => `${pointId}@${occupation}`)).toHaveLength(8);
  });

  it.each(Object.entries(CASES))('%s', async (name, [change, own]) => {
    const points = repeated.map((point, index) => ({ ...point, ...change(point, index) }));
    const made = combinePoints(points, { ...reduction.setup, ...own });
    const record = {
      points: made.points.map((point) => ({ ...point })),
      repeats: made.repeats.map(({ contrasts, ...rest }) => ({ ...rest, contrasts: contrasts.length })),
      pairs: made.pairs.length,
    };
    await expect(keptRecord(record, ['passThrough', 'place'])).toMatchFileSnapshot(
      `./joins/${name.replaceAll(/[, ]+/gu, '-')}.txt`,
    );
  });
});
