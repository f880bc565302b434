import { success, type Outcome } from '../../../records/outcome.js';
import { parseProjString } from './parse-proj-string.js';
import type { SystemDefinition, SystemKind } from './system-definition.js';

/**
 * The definition of a system given as a PROJ string.
 *
 * Returned: a definition without code, registry text or area of use, named by the string itself.
 * Problems: those of `parseProjString`.
 */
export function definitionFromProjString(text: string): Outcome<SystemDefinition> {
  const parsed = parseProjString(text);
  if (!parsed.ok) return parsed;
  return success({
    code: null,
    name: text,
    kind: kindOf(parsed.value.projection),
    proj4: text,
    wkt: null,
    unitName: null,
    areaOfUse: null,
    accuracyM: null,
  });
}

function kindOf(projection: string): SystemKind {
  if (projection === 'longlat') return 'geographic';
  return projection === 'geocent' ? 'geocentric' : 'projected';
}
