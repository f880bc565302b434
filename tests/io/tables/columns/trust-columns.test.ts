import { describe, expect, it } from 'vitest';
import { isTrustLost } from '../../../../src/io/tables/columns/trust-columns.js';

// A figure of trust holds no more where an operation of its own accuracy moved the points; one of plan holds where only heights changed.
describe('figures of trust that hold no more', () => {
  it.each([
    // The name; lost where plan holds; lost where nothing holds.
    ['sigma_east_m', false, true],
    ['sigma_up_m', true, true],
    ['circle_95_m', false, true],
    ['vertical_95_m', true, true],
    ['site_sigma_east_m', false, true],
    ['plan_circle_95_m', false, true],
    ['plan_vertical_95_m', true, true],
    ['input_sigma_vertical_q', true, true],
    ['input_input_sigma_height_q', true, true],
    ['ellipse_of_mine', false, true],
    ['correlation_of_mine', false, true],
    ['verdict', true, true],
    ['verdict_of_mine', true, true],
    ['reasons', true, true],
    [' Sigma_Of_Mine ', false, true],
    ['verdicts', false, false],
    ['reasons_of_mine', false, false],
    ['my_sigma_', false, false],
    ['code', false, false],
    ['point_id', false, false],
  ])('%s', (name, lostInHeight, lost) => {
    expect([isTrustLost(name, 'all'), isTrustLost(name, 'plan'), isTrustLost(name, 'none')]).toEqual([
      false,
      lostInHeight,
      lost,
    ]);
  });
});
