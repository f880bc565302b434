import { operationFrameOf } from '../../core/frames/operations/operation-frames.js';
import { buildGeographicSystem } from '../../core/grid/systems/build-geographic-system.js';
import { parseProjString } from '../../core/projection/definition/parse-proj-string.js';
import { loadSystemDefinition } from '../../io/host/system-registry.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { NamedSide } from '../../tasks/transform/change/named-side.js';
import { loadGridSystem } from './load-systems.js';
import { systemLabel } from '../../core/grid/systems/system-label.js';

/**
 * One end of a transformation, from `EPSG:n` or a PROJ string: projected, geographic (two- or
 * three-dimensional) or geocentric.
 * Given: the system; what it is called in messages. Problems: those of the registry and of the systems; system-unsupported for other kinds.
 *
 * @example
 * const side = loadTransformSide('EPSG:2049').value;
 * [side.kind, side.geographic.code]; // ['projected', 'EPSG:4148']
 */
export function loadTransformSide(text: string, option: string = 'the system'): Outcome<NamedSide> {
  const loaded = loadSystemDefinition(text);
  if (!loaded.ok) return loaded;
  const definition = loaded.value;
  const label = systemLabel(definition);
  const parsed = definition.proj4 === null ? null : parseProjString(definition.proj4);
  const own = parsed?.ok === true ? parsed.value.datumShift : null;
  const common = { name: definition.code ?? definition.name, label, definition: definition.proj4 };
  if (definition.kind === 'projected') {
    const grid = loadGridSystem(text);
    if (!grid.ok) return grid;
    const { base } = grid.value;
    return success({
      ...common,
      kind: 'projected',
      geographic: base,
      grid: grid.value,
      areaOfUse: grid.value.areaOfUse,
      toWgs84: isWgs84(base.code) ? [] : (own ?? base.datumShift),
    });
  }
  if (definition.kind === 'other') {
    return failure(
      errorProblem('system-unsupported', {
        message: `${option} ${label} is neither projected, geographic nor geocentric`,
        received: text,
        hint: 'name its horizontal part, and say what the heights are with --from-height and --to-height',
      }),
    );
  }
  const system = buildGeographicSystem(definition);
  if (!system.ok) return system;
  return success({
    ...common,
    kind: definition.kind,
    geographic: system.value,
    grid: null,
    areaOfUse: system.value.areaOfUse,
    toWgs84: isWgs84(system.value.code) ? [] : (own ?? system.value.datumShift),
  });
}

function isWgs84(code: string | null): boolean {
  return code !== null && operationFrameOf(code)?.name === 'WGS 84';
}
