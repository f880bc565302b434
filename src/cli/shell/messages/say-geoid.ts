import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import { geoidIdentityWords, geoidTestWords } from '../../../core/geoid/geoid-test-value.js';
import type { RunModel } from '../../../io/documents/run-record.js';
import type { Diagnostics } from './diagnostics.js';

/** A geoid in the run record. */
export function geoidModel({ grid, interpolation }: GeoidModel): RunModel {
  return {
    role: `geoid (${interpolation})`,
    name: grid.name,
    definition: grid.frame,
    sha256: grid.sha256,
    test: geoidTestWords(grid),
  };
}

/**
 * Says which geoid is in force: its name, its digest and one of its nodes, since public files of one national model differ
 * by centimetres; the run record has them too. `said`: models of the run so far; one of them is not said again.
 */
export function sayGeoid(
  { grid, interpolation }: GeoidModel,
  { say }: Pick<Diagnostics, 'say'>,
  said: readonly RunModel[] = [],
): void {
  if (said.some(({ name, sha256 }) => name === grid.name && sha256 === grid.sha256)) return;
  const frame = grid.frame === null ? 'its frame not stated' : `given in ${grid.frame}`;
  say(`pegbook: geoid ${grid.name}, ${interpolation}, ${frame} (${geoidIdentityWords(grid)})`);
}
