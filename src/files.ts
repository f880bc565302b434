// The second public surface, `pegbook/files`: surveys from and to the files of docs/file-formats.md. Paths start from the working
// folder, bad data comes back as problems, a file that is written appears whole or not at all. docs/library.md shows them at work.
export { loadGeographicSystem, loadGridSystem } from './files/load-systems.js';
export { readSessionFile } from './files/read-session-file.js';
export type { SessionInPlace } from './files/session-in-place.js';
export { readGeoidFile } from './files/read-geoid-file.js';
export { prepareCheck } from './files/check/prepare-check.js';
export { readLimitsFile } from './files/check/read-limits-file.js';
export { prepareReduction } from './files/reduction/prepare-reduction.js';
export type { Reduction } from './files/reduction/prepare-reduction.js';
export { readFixesFile } from './files/reduction/read-fixes-file.js';
export type { FixesFile } from './files/reduction/read-fixes-file.js';
export { readPointsFile } from './files/points/read-points-file.js';
export type { PointsFileReading } from './files/points/read-points-file.js';
export { writePointsFile } from './files/points/write-points-file.js';
export type { PointsFileOptions } from './files/points/write-points-file.js';

export type { GridSystem } from './core/grid/systems/grid-system.js';
export type { GeographicSystem } from './core/grid/systems/geographic-system.js';
export type { GeoidGrid } from './core/geoid/geoid-grid.js';
export type { PointRow } from './records/points/point-row.js';
export type { Problem } from './records/problem.js';
export type { Outcome } from './records/outcome.js';
