import type { SystemDefinition, SystemKind } from '../../projection/definition/system-definition.js';
import type { AreaOfUse } from '../../projection/definition/system-definition.js';
import { isInsideArea } from './area-of-use.js';

/** What systems are looked for. */
export interface SystemSearch {
  /** All must begin words of the code, the name or the area; none: any system. */
  readonly words: readonly string[];
  /** The area of use must hold it; null: anywhere. Degrees, north and east positive. */
  readonly place: { readonly latitudeDeg: number; readonly longitudeDeg: number } | null;
  /** Null: any kind. */
  readonly kind: SystemKind | null;
}

/** A word of the name counts more than one of the area, a whole word more than its beginning. */
const WEIGHTS = { code: 8, name: 4, nameBegins: 3, area: 1.5, areaBegins: 1 } as const;
/** A projected system is what coordinates are asked for in. */
const ORDER: readonly SystemKind[] = ['projected', 'geographic', 'geocentric', 'other'];

/**
 * The systems that agree with a search, the likeliest first: by the words that their names hold, then projected before others, then
 * the smaller area of use, then by code.
 *
 * Given: definitions; what is looked for. Words are compared without case and accents, letters and digits apart: `lo21` finds
 * `Lo 21`. Returned: a new list.
 */
export function searchSystems(systems: readonly SystemDefinition[], search: SystemSearch): readonly SystemDefinition[] {
  const wanted = wordsOf(search.words.join(' '));
  return systems
    .filter(({ kind }) => search.kind === null || kind === search.kind)
    .filter(({ areaOfUse }) => search.place === null || holds(areaOfUse, search.place))
    .map((system) => ({ system, score: scoreOf(system, wanted), size: sizeOf(system.areaOfUse) }))
    .filter(({ score }) => score !== null)
    .sort(
      (a, b) =>
        // Without words to look for nothing has a score, and all are equal.
        (b.score ?? 0) - (a.score ?? 0) ||
        ORDER.indexOf(a.system.kind) - ORDER.indexOf(b.system.kind) ||
        a.size - b.size ||
        // Systems without a code come first, as they are.
        (a.system.code ?? '').localeCompare(b.system.code ?? '', 'en', { numeric: true }),
    )
    .map(({ system }) => system);
}

function holds(area: AreaOfUse | null, place: NonNullable<SystemSearch['place']>): boolean {
  return area !== null && isInsideArea(area, place.latitudeDeg, place.longitudeDeg);
}

/** Null where a word is missing. */
function scoreOf(system: SystemDefinition, wanted: readonly string[]): number | null {
  // A system without a code is found by its words alone.
  const code = (system.code ?? '').replace(/^EPSG:/u, '');
  const name = wordsOf(system.name);
  // An area that is not described has no words.
  const area = wordsOf(system.areaOfUse?.description ?? '');
  let sum = 0;
  for (const word of wanted) {
    const weight =
      word === code
        ? WEIGHTS.code
        : name.includes(word)
          ? WEIGHTS.name
          : name.some((other) => other.startsWith(word))
            ? WEIGHTS.nameBegins
            : area.includes(word)
              ? WEIGHTS.area
              : area.some((other) => other.startsWith(word))
                ? WEIGHTS.areaBegins
                : null;
    if (weight === null) return null;
    sum += weight;
  }
  return sum;
}

/** Runs of letters and runs of digits, without case and accents. */
function wordsOf(text: string): readonly string[] {
  const plain = text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
  return plain.match(/\p{L}+|\p{N}+/gu) ?? [];
}

/** Of the box on a sphere of radius 1; without one it is as large as any. */
function sizeOf(area: AreaOfUse | null): number {
  if (area === null) return Number.POSITIVE_INFINITY;
  const widthDeg = area.eastDeg >= area.westDeg ? area.eastDeg - area.westDeg : area.eastDeg - area.westDeg + 360;
  const radians = Math.PI / 180;
  return widthDeg * radians * (Math.sin(area.northDeg * radians) - Math.sin(area.southDeg * radians));
}
