import { buildGridSystem } from '../../../core/grid/systems/build-grid-system.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { definitionFromProjString } from '../../../core/projection/definition/definition-from-proj-string.js';
import type { OtherZone } from '../../../core/quality/cause/cause-day.js';

const MERIDIAN_STEPS_DEG: readonly number[] = [-6, -4, -3, -2, -1, 1, 2, 3, 4, 6];
const ZONE_STEPS: readonly number[] = [-2, -1, 1, 2];

/** The same projection about neighbouring central meridians, and neighbouring zones where it is numbered. */
export function neighbourZones(grid: GridSystem): readonly OtherZone[] {
  const text = grid.definition.proj4;
  if (text === null) return [];
  const numberAfter = (name: string): number | null =>
    parseDecimal(new RegExp(`\\+${name}=(-?[\\d.]+)`, 'u').exec(text)?.[1] ?? '');
  const zone = numberAfter('zone');
  const meridian = numberAfter('lon_0');
  const texts: (readonly [string, string])[] = [];
  if (zone !== null) {
    for (const step of ZONE_STEPS)
      texts.push([`zone ${String(zone + step)}`, text.replace(/\+zone=\d+/u, `+zone=${String(zone + step)}`)]);
  } else if (meridian !== null) {
    for (const step of MERIDIAN_STEPS_DEG)
      texts.push([
        `central meridian ${String(meridian + step)}`,
        text.replace(/\+lon_0=-?[\d.]+/u, `+lon_0=${String(meridian + step)}`),
      ]);
  }
  return texts.flatMap(([name, definition]): readonly OtherZone[] => {
    const parsed = definitionFromProjString(definition);
    const built = parsed.ok ? buildGridSystem(parsed.value, null) : parsed;
    return built.ok ? [{ name, forward: built.value.forward, inverse: built.value.inverse }] : [];
  });
}
