import { basename, extname } from 'node:path';
import { failure } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/** Endings of the containers that hold GGXF: its own, and that of NetCDF. */
const ENDINGS = ['.ggxf', '.nc'];

/**
 * The refusal of a file in the Geodetic data Grid eXchange Format, by its name; null for any other.
 * Given: the file as it was named; what is asked for, in the plural; the kind of geodetic TIFF that would do.
 * Reference: OGC 22-051r7, a NetCDF-4 file with the ending .ggxf.
 */
export function ggxfRefusal(name: string, words: string, type: string): Outcome<never> | null {
  if (!ENDINGS.includes(extname(name).toLowerCase())) return null;
  return failure(
    errorProblem('grid-unsupported', {
      message: `${basename(name)} is a GGXF file (OGC 22-051, a NetCDF container), which is not read`,
      received: basename(name),
      expected: `${words} as a geodetic TIFF of TYPE ${type}`,
      hint: `ask the publisher for the ${words} as a geodetic TIFF, or convert them to one of TYPE ${type}; then compare a test value of the publisher with the one that each run says`,
      where: { source: name },
    }),
  );
}
