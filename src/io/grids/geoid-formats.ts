import type { Outcome } from '../../records/outcome.js';
import { entryAt } from '../../records/present.js';
import type { GeoidFileContent, GridReading } from './grid-reading.js';

/** A format of geoid grids: the endings of its files, the usual one first, and its reader, loaded with the first file of it. */
interface GeoidFormat {
  readonly endings: readonly string[];
  readonly read: (bytes: Buffer, reading: GridReading) => Promise<Outcome<GeoidFileContent>>;
}

/** Every format that is read, in the order of the documentation. */
export const GEOID_FORMATS: readonly GeoidFormat[] = [
  { endings: ['.gtx'], read: async (bytes) => (await import('./gtx-read.js')).readGtx(bytes) },
  {
    endings: ['.tif', '.tiff'],
    read: async (bytes, reading) => (await import('./tiff/geotiff-grid-read.js')).readGeotiffGrid(bytes, reading),
  },
  { endings: ['.isg'], read: async (bytes) => (await import('./isg/isg-read.js')).readIsg(bytes) },
  {
    endings: ['.csv'],
    read: async (bytes, reading) => (await import('./geoid-csv-read.js')).readGeoidCsv(bytes, reading),
  },
];

/** One ending of each format, for people. */
export const GEOID_ENDINGS: readonly string[] = GEOID_FORMATS.map(({ endings }) => entryAt(endings, 0));
