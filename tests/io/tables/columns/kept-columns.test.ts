import { describe, expect, it } from 'vitest';
import { CANDIDATE_COLUMNS } from '../../../../src/io/tables/candidate-columns.js';
import { FIX_COLUMNS } from '../../../../src/io/tables/fixes/fix-table.js';
import { OCCUPATION_COLUMNS } from '../../../../src/io/tables/fixes/occupation-columns.js';
import { seriesColumns } from '../../../../src/io/tables/iso-series-read.js';
import { MASK_COLUMNS } from '../../../../src/io/tables/mask-read.js';
import { PAIR_COLUMNS } from '../../../../src/io/tables/pairs-read.js';
import { placeColumns } from '../../../../src/io/tables/points/place-columns.js';
import { POINT_FILE_COLUMNS, pointColumns } from '../../../../src/io/tables/points/point-columns.js';
import { POLAR_COLUMNS } from '../../../../src/io/tables/polar-read.js';
import { SKY_WINDOW_COLUMNS } from '../../../../src/io/tables/sky-window-read.js';
import { keptRecord } from '../../../support/kept-record.js';

// Regression: the ranges that a file may hold and the decimals that are written are promises, so that a change of one is seen here.
// The readers' own tests hold what is made of a cell.
const EAST_NORTH = ['easting_m', 'northing_m'] as const;
const TABLES: Readonly<Record<string, readonly object[]>> = {
  points: pointColumns(EAST_NORTH),
  'points in feet': POINT_FILE_COLUMNS.pair(['easting_ft', 'northing_ft']),
  'points beside': POINT_FILE_COLUMNS.beside,
  fixes: FIX_COLUMNS,
  occupations: OCCUPATION_COLUMNS,
  series: seriesColumns(EAST_NORTH, 1),
  masks: MASK_COLUMNS,
  pairs: PAIR_COLUMNS,
  polar: POLAR_COLUMNS,
  candidates: CANDIDATE_COLUMNS,
  'sky windows': SKY_WINDOW_COLUMNS,
  'geographic places': placeColumns('geographic', null, 'ellipsoidal'),
  'geocentric places': placeColumns('geocentric', null, null),
  'places of a grid': placeColumns('projected', EAST_NORTH, 'orthometric'),
};

describe('the columns of tables', () => {
  it.each(Object.entries(TABLES))('%s: kinds, units, ranges and decimals are what they were', async (name, columns) => {
    await expect(keptRecord(columns, ['describe'])).toMatchFileSnapshot(`./columns/${name.replaceAll(' ', '-')}.txt`);
  });
});
