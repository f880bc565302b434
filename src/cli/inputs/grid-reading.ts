import { DEFAULT_GRID_NODES } from '../../io/grids/grid-reading.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import { numberOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';

/** How far grids may be read: by --grid-nodes, until a signal comes. */
export function gridReading(invocation: Invocation, signal: AbortSignal | null): GridReading {
  return { mostNodes: numberOption(invocation, 'gridNodes') ?? DEFAULT_GRID_NODES, signal };
}
