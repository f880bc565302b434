import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';

/** What a grid file says: a `GeoidGrid` without its name and hash. */
export type GeoidFileContent = Pick<GeoidGrid, 'frame' | 'precisionNote' | 'levels'>;

/** Nodes that a compressed grid file may unpack to unless more are allowed: a world at 2.5 minutes of arc has 37 million. */
export const DEFAULT_GRID_NODES = 64_000_000;

/** How far the reading of a grid may go. */
export interface GridReading {
  /** Nodes that a compressed grid file may unpack to. */
  readonly mostNodes: number;
  /** Ends the reading between two blocks; null where nothing does. */
  readonly signal: AbortSignal | null;
}

export const DEFAULT_GRID_READING: GridReading = { mostNodes: DEFAULT_GRID_NODES, signal: null };
