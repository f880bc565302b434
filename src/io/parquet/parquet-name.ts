import { extname } from 'node:path';
import { failure } from '../../records/outcome.js';
import type { Failure } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/** Whether a file is a Parquet file by the ending of its name. */
export function isParquetName(path: string): boolean {
  return extname(path).toLowerCase() === '.parquet';
}

/** parquet-package-missing. Given: the name of the file; the package that is not there. */
export function packageMissing(source: string, name: string): Failure {
  return failure(
    errorProblem('parquet-package-missing', {
      message: `what reads and writes Parquet is not installed: ${name}`,
      where: { source },
      hint: 'npm install hyparquet hyparquet-writer, beside pegbook (with --global where pegbook is), or use CSV',
    }),
  );
}
