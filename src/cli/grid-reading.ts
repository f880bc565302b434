import { DEFAULT_GRID_NODES } from '../io/grid-reading.js';
import type { GridReading } from '../io/grid-reading.js';
import { numberOption } from './command-spec.js';
import type { Invocation } from './command-spec.js';

/** How far grids may be read: by --grid-nodes, until a signal comes. */
export function gridReading(invocation: Invocation, signal: AbortSignal | null): GridReading {
  return { mostNodes: numberOption(invocation, 'gridNodes') ?? DEFAULT_GRID_NODES, signal };
}
