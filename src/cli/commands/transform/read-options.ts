import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { axisNames } from '../../../files/points/open-points.js';
import type { PlaceReadOptions } from '../../../io/tables/points/place-input.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PositionChoice } from '../../../tasks/join/one-position.js';
import type { PlannedTransform } from '../../../tasks/transform/plan-transform.js';
import { formRead } from '../../../tasks/transform/transform-plan.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { SITE_COLUMNS } from './transform-columns.js';
import { ownPlaceCheck } from './own-place-check.js';
import type { OwnPlaceCheck } from './own-place-check.js';

/** An operation has an accuracy of its own, often metres, and a change of heights that of its model. */
const TRUST = { place: 'none', heights: 'plan', nothing: 'all' } as const;

/** What is read of each row. */
export function readOptions(planned: PlannedTransform, { mapping }: TableOptions): Omit<PlaceReadOptions, 'place'> {
  const { plan, from, end } = planned;
  const beside = besideGrid(planned);
  return {
    kind: formRead(plan) === 'topocentric' ? 'topocentric' : from.kind,
    axes:
      (end?.at === 'in' ? end.columns : null) ??
      (from.grid === null ? null : [from.grid.axes[0].columnName, from.grid.axes[1].columnName]),
    needs: planned.heights.needs,
    trust: TRUST[planned.moves],
    mapping,
    beside: beside === null ? null : axisNames(beside),
    alsoLeftOut: end?.kind === 'site' ? SITE_COLUMNS.map(({ name }) => name) : [],
  };
}

/** The grid of a pair that may stand beside degrees: that of the target, whose pair the output replaces. */
function besideGrid({ from, to }: PlannedTransform): GridSystem | null {
  return from.kind === 'geographic' ? to.grid : null;
}

/** How the position of a row is compared with a second one it may have. Problems: those of `ownPlaceCheck`. */
export function positionCheck(planned: PlannedTransform, choice: PositionChoice): Outcome<OwnPlaceCheck> {
  const { from, end } = planned;
  const grid = end?.at === 'in' ? null : (from.grid ?? besideGrid(planned));
  return ownPlaceCheck(grid, from.grid !== null, choice);
}
