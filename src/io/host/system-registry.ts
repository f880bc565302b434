import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { definitionFromProjString } from '../../core/projection/definition/definition-from-proj-string.js';
import { definitionFromWkt } from '../../core/projection/definition/definition-from-wkt.js';
import { registryString } from '../../core/projection/definition/registry-string.js';
import type { AreaOfUse, SystemDefinition, SystemKind } from '../../core/projection/definition/system-definition.js';
import { failure, success, type Outcome } from '../../records/outcome.js';
import { present } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import { PROGRAM_FILES } from './program-files.js';

/** The folder of the package that has a file for each system. */
const EACH = 's';

/** The registry keeps its codes below this; larger ones in the package are other authorities'. */
const LARGEST_EPSG_CODE = 32767;

const KINDS: Readonly<Record<string, SystemKind>> = {
  'CRS-PROJCRS': 'projected',
  'CRS-GEOGCRS': 'geographic',
  'CRS-GEOG3DCRS': 'geographic',
  'CRS-GCENCRS': 'geocentric',
};

/**
 * The definition of a coordinate system, by registry code, as a PROJ string or as well-known text.
 *
 * Given: `EPSG:n`, a PROJ string beginning with `+`, or WKT2.
 * Returned: the definition, not yet made into something to compute with (`buildGridSystem`,
 * `buildGeographicSystem`).
 * Problems: system-unknown, with the nearest codes; system-definition-invalid.
 * Only the one small file of the system is read from the package that carries the registry.
 */
export function loadSystemDefinition(text: string): Outcome<SystemDefinition> {
  const trimmed = text.trim();
  if (trimmed.startsWith('+')) return definitionFromProjString(trimmed);
  if (/^\w+\s*[[(]/u.test(trimmed)) return definitionFromWkt(trimmed);
  const match = /^EPSG:([1-9]\d*)$/iu.exec(trimmed);
  if (match === null) {
    return failure(
      errorProblem('system-unknown', {
        message: `"${text}" is neither a registry code nor a PROJ string`,
        received: text,
        expected: 'EPSG:n or a PROJ string that begins with +',
        hint: /^\d+$/u.test(trimmed)
          ? `write EPSG:${trimmed}`
          : 'systems are named by their code, such as EPSG:4326, or by a PROJ string that begins with +; `pegbook find-system WORDS` looks up names',
      }),
    );
  }
  const number = match[1] ?? '';
  const entry = codeNumber(number) <= LARGEST_EPSG_CODE ? readEntry(number) : null;
  if (entry === null) {
    return failure(
      errorProblem('system-unknown', {
        message: `no system has the code EPSG:${number}`,
        received: text,
        ...nearestHint(number),
      }),
    );
  }
  return success(definitionOf(number, entry));
}

/** Every system of the registry, by number. Reads the one large file of the package, which takes a fifth of a second. */
export function listSystemDefinitions(): readonly SystemDefinition[] {
  const all = JSON.parse(present(PROGRAM_FILES.registry('all.json'), 'the registry').toString('utf8')) as Readonly<
    Record<string, Readonly<Record<string, unknown>>>
  >;
  return Object.entries(all)
    .filter(([number]) => codeNumber(number) <= LARGEST_EPSG_CODE)
    .map(([number, entry]) => definitionOf(number, entry));
}

function readEntry(number: string): Record<string, unknown> | null {
  const bytes = PROGRAM_FILES.registry(`${EACH}/${number}.json`);
  return bytes === null ? null : (JSON.parse(bytes.toString('utf8')) as Record<string, unknown>);
}

function definitionOf(number: string, entry: Readonly<Record<string, unknown>>): SystemDefinition {
  const textOf = (key: string): string | null => {
    const value = entry[key];
    return typeof value === 'string' && value !== '' ? value : null;
  };
  const accuracy = entry['accuracy'];
  return {
    code: `EPSG:${number}`,
    name: textOf('name') ?? `EPSG:${number}`,
    // A system of no stated kind is of another kind.
    kind: KINDS[textOf('kind') ?? ''] ?? 'other',
    // Where the index has no string, the registry's text or its dataset says one.
    proj4: textOf('proj4')?.trim() ?? registryString(number, textOf('wkt')),
    wkt: textOf('wkt'),
    unitName: textOf('unit'),
    // An area may go without a description.
    areaOfUse: areaOf(entry['bbox'], textOf('area') ?? ''),
    accuracyM: typeof accuracy === 'number' ? accuracy : null,
  };
}

/** The package lists a box as north, west, south, east. */
function areaOf(box: unknown, description: string): AreaOfUse | null {
  if (!Array.isArray(box)) return null;
  const [northDeg, westDeg, southDeg, eastDeg] = box as unknown[];
  if (typeof northDeg !== 'number' || typeof westDeg !== 'number') return null;
  if (typeof southDeg !== 'number' || typeof eastDeg !== 'number') return null;
  return { southDeg, westDeg, northDeg, eastDeg, description };
}

/** A hint with the nearest codes; none where no code is a slip of the finger or a small step away. */
function nearestHint(number: string): { readonly hint?: string } {
  const codes = nearestCodes(number);
  return codes.length === 0
    ? { hint: 'look the code up in the EPSG registry' }
    : { hint: `nearest codes: ${codes.join(', ')}` };
}

/** Up to three codes that exist: those one slip of the finger away first, then the closest numbers. */
function nearestCodes(number: string): readonly string[] {
  const wanted = codeNumber(number);
  return PROGRAM_FILES.registryNames(EACH)
    .map((file) => file.replace(/\.json$/u, ''))
    .filter((code) => /^\d+$/u.test(code) && codeNumber(code) <= LARGEST_EPSG_CODE)
    .map((code) => ({ code, slips: differingDigits(code, number), gap: Math.abs(codeNumber(code) - wanted) }))
    .filter(({ slips, gap }) => slips <= 1 || gap <= 50)
    .sort((a, b) => a.slips - b.slips || a.gap - b.gap || codeNumber(a.code) - codeNumber(b.code))
    .slice(0, 3)
    .map(({ code }) => `EPSG:${code}`);
}

/** The number of a code that is digits only; infinite for anything else. */
function codeNumber(code: string): number {
  return parseDecimal(code) ?? Number.POSITIVE_INFINITY;
}

/** Digits in which two codes differ; 2 stands for more, or for another length. */
function differingDigits(a: string, b: string): number {
  if (a.length !== b.length) return 2;
  let count = 0;
  for (let i = 0; i < a.length; i += 1) if (a[i] !== b[i]) count += 1;
  return Math.min(count, 2);
}
