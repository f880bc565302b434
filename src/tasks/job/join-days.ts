import { systemsAgree } from '../../core/grid/systems/systems-agree.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { identified } from '../bases/prepare-bases.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import { entryAt, present } from '../../records/present.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** What one day of a job is reduced with. */
export interface DaySetup {
  readonly id: string;
  readonly setup: ReductionSetup & { readonly grid: GridSystem };
}

/**
 * What the days of a job are compared and joined with: the setup of the first, with the base set-ups of all of them. A mark that
 * several days used is one mark; a base that a day describes itself was set up anew on it, one that all days share was not.
 *
 * Given: the days in their order, at least one. Problems: system-mismatch for a day in another grid, frame or geoid than the
 * first: their coordinates could not stand in one list.
 *
 * @example
 * // Two days of one system, reduced without bases.
 * const system = { fixesSystem: loadGeographicSystem('EPSG:4148').value, grid: loadGridSystem('EPSG:2049').value };
 * const setup = { ...system, ellipsoid: WGS84, shift: null, geoid: null, bases: [] };
 * const days = ['monday', 'tuesday'].map((id) => ({ id, setup }));
 * joinDays(days).value.grid.code; // 'EPSG:2049'
 * joinDays([...days, { id: 'wednesday', setup: { ...setup, grid: loadGridSystem('EPSG:2048').value } }]).ok; // false
 */
export function joinDays(days: readonly DaySetup[]): Outcome<DaySetup['setup']> {
  const first = entryAt(days, 0);
  for (const day of days) {
    const differs = difference(first.setup, day.setup);
    if (differs !== null)
      return failure(
        errorProblem('system-mismatch', {
          message: `day ${day.id} has ${differs} than day ${first.id}`,
          hint: 'one list has one system: say it in [shared], or take a day over with transform',
        }),
      );
  }
  return success({ ...first.setup, bases: jointBases(days) });
}

/** The days of a job with what they are reduced with, so far as that is known. */
export function namedSetups(
  days: readonly { readonly id: string | null }[],
  setups: readonly (DaySetup['setup'] | null)[],
): readonly DaySetup[] {
  return setups.flatMap((setup, index): readonly DaySetup[] =>
    setup === null ? [] : [{ id: present(entryAt(days, index).id, 'the day of a job'), setup }],
  );
}

function jointBases(days: readonly DaySetup[]): readonly PreparedBase[] {
  const bases = new Map<string, PreparedBase>();
  for (const { setup } of days) for (const base of setup.bases) bases.set(base.identity.setupKey, base);
  return identified([...bases.values()], entryAt(days, 0).setup.ellipsoid);
}

function shiftIdentity({ shift }: DaySetup['setup']): string {
  return shift === null ? 'none' : JSON.stringify([shift.name, shift.direction, shift.epochYear, shift.file?.sha256]);
}

/** What tells the frame of two days apart, in words; null: nothing. */
function difference(a: DaySetup['setup'], b: DaySetup['setup']): string | null {
  if (a.grid.definition.proj4 !== b.grid.definition.proj4 || a.grid.name !== b.grid.name)
    return `another grid (${b.grid.name})`;
  if (!systemsAgree(a.fixesSystem, b.fixesSystem)) return `fixes in another system (${b.fixesSystem.name})`;
  if (shiftIdentity(a) !== shiftIdentity(b)) return 'another shift between the frame of the fixes and that of the grid';
  if (a.geoid?.grid.sha256 !== b.geoid?.grid.sha256 || a.geoid?.interpolation !== b.geoid?.interpolation)
    return `another geoid (${b.geoid?.grid.name ?? 'none'})`;
  return null;
}
