import type { AxisSigns } from '../../grid/systems/grid-axes.js';
import type { RegisterAxis } from '../../../records/reports/register-report.js';

/**
 * Which way a mark has moved along an axis of the system, in words that need no sign: `farther east`, `lower`.
 *
 * Given: the axis; the movement in its own sense (a westing grows to the west); what the values of the two axes of the plane are
 * multiplied by to count east and north.
 */
export function movementWay(axis: RegisterAxis, size: number, [first, second]: AxisSigns): string {
  if (axis === 'up') return size < 0 ? 'lower' : 'higher';
  if (axis === 'first') return size * first < 0 ? 'farther west' : 'farther east';
  return size * second < 0 ? 'farther south' : 'farther north';
}
