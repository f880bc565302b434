import { Readable } from 'node:stream';
import { DEFAULT_DIALECT } from '../../io/csv/csv-dialect.js';
import type { PointInputSettings } from '../points/open-points.js';
import type { Surroundings } from '../surroundings.js';

/** Of a program that says nothing else: comma-separated, with a header of our names. */
export const PLAIN_TABLES: PointInputSettings['tables'] = {
  dialect: DEFAULT_DIALECT,
  encoding: null,
  mapping: {},
  positionFrom: null,
};

/** The working folder, and no standard input. */
export function workingFolder(): Surroundings {
  return { cwd: '.', stdin: Readable.from([]) };
}
