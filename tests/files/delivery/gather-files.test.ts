import { describe, expect, it } from 'vitest';
import { deliveredPaths } from '../../../src/files/delivery/gather-files.js';

describe('the place of a file in a delivery', () => {
  it('is as if it lay in the folder of the job, wherever it was written', () => {
    expect(
      deliveredPaths([
        { role: 'data', name: '../../points.csv' },
        { role: 'record', name: '../../run.json' },
        { role: 'page', name: 'pages/days.html' },
      ]),
    ).toEqual(['tables/points.csv', 'records/run.json', 'reports/pages/days.html']);
  });

  it('names the way up where two would be one', () => {
    expect(
      deliveredPaths([
        { role: 'data', name: 'points.csv' },
        { role: 'side', name: '../points.csv' },
      ]),
    ).toEqual(['tables/points.csv', 'tables/above/points.csv']);
  });
});
