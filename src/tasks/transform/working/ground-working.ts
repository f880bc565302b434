import type { ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import type { GridPair } from '../../../core/grid/systems/grid-system.js';
import { NUMBER, given, together, withDecimals, worked } from '../../explain/lines/worked-lines.js';
import type { LegWorking } from './leg-working.js';

const PAIR = withDecimals(NUMBER, 8);

/** Grid to ground about a place, or back: what is away from it over the combined factor. Pairs in the unit of the grid. */
export function groundWorking(
  about: GridPair,
  factor: number,
  direction: ShiftDirection,
  before: GridPair,
  after: GridPair,
): LegWorking {
  const by = direction === 'forward' ? ' / f' : '·f';
  return {
    title: null,
    source: null,
    formula: direction === 'forward' ? 'X = X₀ + (x − x₀) / f' : 'x = x₀ + (X − X₀) f',
    lines: [
      together(
        given('x_0', about.first, PAIR),
        given('y_0', about.second, PAIR),
        given('f', factor, withDecimals(NUMBER, 15)),
      ),
      together(given('x', before.first, PAIR), given('y', before.second, PAIR)),
      together(
        worked('first', `x_0 + (x − x_0)${by}`, after.first, withDecimals(NUMBER, 5)),
        worked('second', `y_0 + (y − y_0)${by}`, after.second, withDecimals(NUMBER, 5)),
      ),
    ],
  };
}
