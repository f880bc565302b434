import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { Fix } from '../../records/points/fix.js';
import { dayOfOccupation } from '../job/occupation-name.js';
import type { PreparedBase } from './prepare-bases.js';

/**
 * The base a fix was measured from: the one it names, and where several set-ups carry that name or
 * none is named, the one whose time span holds the epoch.
 *
 * Returned: the base; null where the session describes none and the fix names none; or a problem
 * (base-unknown, base-ambiguous) without its place.
 */
export function chooseBase(fix: Fix, bases: readonly PreparedBase[]): PreparedBase | null | Problem {
  if (bases.length === 1) {
    const only = bases[0];
    if (only !== undefined && fix.baseId === null && only.settings.fromMs === null && only.settings.toMs === null)
      return only;
  }
  if (bases.length === 0) return fix.baseId === null ? null : unknownBase(fix, bases);
  const matches: PreparedBase[] = [];
  for (const base of bases) {
    if (fix.baseId !== null && base.settings.id !== fix.baseId) continue;
    if (!covers(base, fix.epochMs)) continue;
    matches.push(base);
  }
  const [first] = matches;
  if (first === undefined) return unknownBase(fix, bases);
  if (matches.length > 1) {
    return errorProblem('base-ambiguous', {
      message: `the epoch could belong to ${matches.map((base) => base.settings.id).join(' or ')}`,
      hint: 'add base_id to the rows, or from_utc and to_utc to the bases of the session',
    });
  }
  return first;
}

/** What tells the set-up of an occupation: the id of its base, its first epoch, and its name. */
export interface StandOfBase {
  readonly baseId: string | null;
  readonly firstEpochMs: number | null;
  readonly occupation: string;
}

/**
 * The set-up of a name that was running at an instant: of a point whose base is known by name only.
 * Undefined where no set-up has the name, or several do and none, or more than one, holds the instant. Of a job, the name of the
 * occupation says the day: a set-up that a day describes is of that day only.
 */
export function baseNamed<Base extends Pick<PreparedBase, 'settings'>>(
  { baseId, firstEpochMs: epochMs, occupation }: StandOfBase,
  bases: readonly Base[],
): Base | undefined {
  if (bases.length === 0) return undefined;
  const day = dayOfOccupation(occupation);
  const named = bases.filter(
    ({ settings }) => settings.id === baseId && (settings.day === undefined || settings.day === day),
  );
  if (named.length < 2) return named[0];
  const running = named.filter((base) => covers(base, epochMs));
  return running.length === 1 ? running[0] : undefined;
}

function covers(base: Pick<PreparedBase, 'settings'>, epochMs: number | null): boolean {
  const { fromMs, toMs } = base.settings;
  if (epochMs === null) return fromMs === null && toMs === null;
  return (fromMs === null || epochMs >= fromMs) && (toMs === null || epochMs <= toMs);
}

function unknownBase(fix: Fix, bases: readonly PreparedBase[]): Problem {
  const known = bases.map((base) => base.settings.id).join(', ');
  if (fix.baseId === null || bases.some((base) => base.settings.id === fix.baseId)) {
    return errorProblem('base-unknown', {
      message: `no base of the session was running at this epoch${fix.baseId === null ? '' : ` under the name ${fix.baseId}`}`,
      expected: known,
      hint: 'check from_utc and to_utc of the bases',
    });
  }
  return errorProblem('base-unknown', {
    message: `base ${fix.baseId} is not described by the session`,
    received: fix.baseId,
    expected: known === '' ? 'a [[base]] entry' : known,
    hint: 'add it as [[base]], or mend the name',
  });
}
