import { systemsAgree } from '../../core/grid/systems/systems-agree.js';
import { buildGeographicSystem } from '../../core/grid/systems/build-geographic-system.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import { loadSystemDefinition } from '../../io/host/system-registry.js';

/**
 * The registry codes that name this system: its own, and `candidate` where that is the same datum
 * under another code (its three-dimensional or geocentric entry).
 */
export function systemCodes(system: GeographicSystem, candidate: string | null = null): readonly string[] {
  const codes = system.code === null ? [] : [system.code];
  if (candidate === null || codes.includes(candidate)) return codes;
  const definition = loadSystemDefinition(candidate);
  if (!definition.ok) return codes;
  const other = buildGeographicSystem(definition.value);
  return other.ok && systemsAgree(system, other.value) ? [...codes, candidate] : codes;
}
