import { buildGeographicSystem } from '../../core/grid/systems/build-geographic-system.js';
import { searchSystems } from '../../core/grid/systems/search-systems.js';
import type { SystemSearch } from '../../core/grid/systems/search-systems.js';
import type { SystemDefinition } from '../../core/projection/definition/system-definition.js';
import { listSystemDefinitions } from '../../io/host/system-registry.js';
import { loadGridSystem } from './load-systems.js';
import { entryAt, present } from '../../records/present.js';

/** A system that was looked for, and whether the commands take it. */
export interface FoundSystem {
  readonly definition: SystemDefinition;
  readonly isSupported: boolean;
  /** Why it is not, in words; null where it is. */
  readonly whyNot: string | null;
}

/**
 * The systems of the registry that agree with a search, each tried as a command would take it: those that it takes
 * first, and of these the likeliest.
 *
 * Given: what is looked for, see `SystemSearch`. Returned: what was found; none is an empty list.
 *
 * @example
 * const [first] = findSystems({ words: ['lo21'], place: { latitudeDeg: -31.5, longitudeDeg: 21.4 }, kind: 'projected' });
 * [first.definition.code, first.isSupported]; // ['EPSG:2049', true]
 */
export function findSystems(search: SystemSearch): readonly FoundSystem[] {
  const found = searchSystems(listSystemDefinitions(), search).map(tried);
  return [...found.filter(({ isSupported }) => isSupported), ...found.filter(({ isSupported }) => !isSupported)];
}

function tried(definition: SystemDefinition): FoundSystem {
  if (definition.kind === 'other')
    return { definition, isSupported: false, whyNot: 'no system of positions in plan: a height or compound system' };
  const built =
    definition.kind === 'projected'
      ? loadGridSystem(present(definition.code, 'the code of a system of the registry'))
      : buildGeographicSystem(definition);
  return built.ok
    ? { definition, isSupported: true, whyNot: null }
    : { definition, isSupported: false, whyNot: entryAt(built.problems, 0).message };
}
