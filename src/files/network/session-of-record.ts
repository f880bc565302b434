import { dirname, resolve } from 'node:path';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { readRunRecord } from '../../io/documents/run-record-read.js';
import { sessionTextOfRecord } from '../../io/documents/session-text-of-record.js';
import { readSession } from '../../io/settings/session-read.js';
import { wholeText } from '../../io/text/whole-text.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { OccupationSession } from '../../tasks/network/input/point-vectors.js';
import { loadReductionSetup } from '../reduction/setup/load-reduction-setup.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';

/**
 * What points were reduced with, by the run record of their reduction: systems, bases, pole, planning model as they were in force,
 * options of that run included.
 *
 * Given: the record's path, from the folder; what the command itself says, whose geoid counts (the record's path of it starts from a
 * folder that is not known). Problems: those of the record, of the session in it and of what that names.
 */
export async function loadSessionOfRecord(
  path: string,
  cwd: string,
  { session: own, folder, reading }: SessionInPlace,
): Promise<Outcome<{ readonly source: Source; readonly setup: OccupationSession['setup'] }>> {
  const source = await openSource(path, { cwd, stdin: noInput(), encoding: null });
  if (!source.ok) return source;
  const text = await wholeText(source.value);
  const record = text.ok ? readRunRecord(text.value, source.value.name) : text;
  const written = record.ok ? sessionTextOfRecord(record.value) : record;
  const session = written.ok ? readSession(written.value, source.value.name) : written;
  if (!session.ok) return session;
  const { geoid, interpolation, geoidFrame } = own.height;
  const stated = session.value.height;
  const isBuiltIn = geoid === null && stated.geoid === 'egm96';
  const height = {
    ...stated,
    geoid: isBuiltIn ? stated.geoid : geoid,
    ...(geoid !== null && { interpolation, geoidFrame }),
  };
  const setup = await loadReductionSetup(
    {
      session: { ...session.value, height },
      folder: geoid === null ? dirname(resolve(cwd, path)) : folder,
      reading,
    },
    [],
  );
  return setup.ok ? success({ source: source.value, setup: setup.value }, setup.problems) : setup;
}

/** A record comes from a file. */
async function* noInput(): AsyncGenerator<Uint8Array> {
  // Nothing comes.
}
