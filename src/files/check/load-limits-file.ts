import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { readLimits } from '../../io/settings/limits-read.js';
import type { LimitsFile } from '../../io/settings/limits-read.js';
import { wholeText } from '../../io/text/whole-text.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Surroundings } from '../surroundings.js';

/** A limits file, and the source it was read from. Problems: those of the file and of `readLimits`. */
export async function loadLimitsFile(
  path: string,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<LimitsFile & { readonly from: Source }>> {
  const source = await openSource(path, { cwd, stdin });
  if (!source.ok) return source;
  const text = await wholeText(source.value);
  if (!text.ok) return text;
  const limits = readLimits(text.value, source.value.name);
  return limits.ok ? success({ ...limits.value, from: source.value }, limits.problems) : limits;
}
