import { loadGridSystem } from '../../../files/systems/load-systems.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { entryAt, present } from '../../../records/present.js';
import type { RunSide } from './run-side.js';

/** Coordinate epochs nearer than this are one: a plate moves less than 2 mm meanwhile. */
const SAME_EPOCH_YEARS = 0.02;

/**
 * The one system that both sides are in: what they state, and for one that does not state any, what the run was told.
 *
 * Given: both sides; the system of --system or of the session, null: none. Problems: system-mismatch where two differ;
 * config-missing where a side states none and the run was told none; a warning where the epochs of coordinates differ.
 */
export function oneSystem(sides: readonly RunSide[], told: string | null): Outcome<string> {
  const named = [
    ...sides.map(({ name, stated }) => ({ name, system: stated?.system ?? told })),
    ...(told === null ? [] : [{ name: 'this run', system: told }]),
  ];
  const silent = named.find(({ system }) => system === null);
  if (silent !== undefined)
    return failure(
      errorProblem('config-missing', {
        message: `${silent.name} does not say which system its points are in`,
        hint: 'give --system EPSG:n, which is then the system of both, or compare run records, which say it',
      }),
    );
  let first: { readonly name: string; readonly key: string; readonly title: string } | null = null;
  for (const { name, system } of named) {
    const grid = loadGridSystem(present(system, 'the system of a side that names one'));
    if (!grid.ok) return grid;
    const own = {
      name,
      key: grid.value.code ?? grid.value.definition.proj4 ?? grid.value.name,
      // A system without a code goes by its name.
      title: `${grid.value.code ?? ''} ${grid.value.name}`.trim(),
    };
    if (first !== null && first.key !== own.key)
      return failure(
        errorProblem('system-mismatch', {
          message: `the points of ${first.name} are in ${first.title} and those of ${own.name} in ${own.title}`,
          hint: 'transform one of them first; a movement between two systems says nothing',
        }),
      );
    first ??= own;
  }
  return success(present(told ?? entryAt(named, 0).system, 'the system of both sides'), epochDoubt(sides));
}

function epochDoubt(sides: readonly RunSide[]): readonly Problem[] {
  const [a, b] = sides.map(({ stated }) => stated?.epochYear ?? null);
  if (a == null || b == null || Math.abs(a - b) <= SAME_EPOCH_YEARS) return [];
  return [
    warningProblem('system-mismatch', {
      message: `coordinates belong to ${String(a)} and to ${String(b)}: in a frame that plates move in, all points moved by some centimetres a year`,
      hint: 'see the median of all movements; transform one of them with --epoch-to and --plate',
    }),
  ];
}
