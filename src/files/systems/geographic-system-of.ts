import { buildGeographicSystem } from '../../core/grid/systems/build-geographic-system.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import { loadSystemDefinition } from '../../io/host/system-registry.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';

/**
 * The geographic system that a text names; null where it names nothing, or a system of another kind, which is then judged by who
 * needs it. Problems: those of `buildGeographicSystem`.
 */
export function geographicSystemOf(text: string | null): Outcome<GeographicSystem | null> {
  const definition = text === null || text === '' ? null : loadSystemDefinition(text);
  return definition?.ok === true && definition.value.kind === 'geographic'
    ? buildGeographicSystem(definition.value)
    : success(null);
}
