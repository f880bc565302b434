import type { ReportPlace } from '../../../records/reports/reduction-report.js';
import { bareName } from '../../page/words/base-names.js';
import type { PlanView } from './plan-view.js';
import type { DrawnPoint } from './plan-words.js';
import type { Place } from '../shapes.js';

/** Occupations of a point that lie closer are drawn side by side, so far apart. */
const SAME_PLACE_PX = 4;
const BESIDE_PX = 9;
/** Of more occupations of one place one sign stands for each verdict: side by side they would run off to where nothing was measured. */
const MOST_BESIDE = 4;

const placeKey = ({ x, y }: Place): string => `${Math.round(x / SAME_PLACE_PX)} ${Math.round(y / SAME_PLACE_PX)}`;

/** Marks of one place side by side, so that both verdicts are seen; of many one for each verdict, the least sure. */
export function apart(drawn: readonly DrawnPoint[]): {
  readonly drawn: readonly DrawnPoint[];
  readonly areOnesForMany: boolean;
} {
  const groups = new Map<string, DrawnPoint[]>();
  for (const one of drawn) {
    const key = `${placeKey(one.at)} ${one.point.pointId}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  const all = [...groups.values()];
  return {
    areOnesForMany: all.some((group) => group.length > MOST_BESIDE),
    drawn: all.flatMap((group) =>
      (group.length > MOST_BESIDE ? leastSureOfEach(group) : group).map((one, index) =>
        index === 0 ? one : { ...one, at: { x: one.at.x + index * BESIDE_PX, y: one.at.y } },
      ),
    ),
  };
}

function leastSureOfEach(group: readonly DrawnPoint[]): readonly DrawnPoint[] {
  // What states no figure is as unsure as can be.
  const size = ({ point }: DrawnPoint): number => point.summary?.ellipseMajor95M ?? Infinity;
  return (['accepted', 'review', 'rejected'] as const).flatMap((verdict) => {
    const [first] = group.filter(({ point }) => point.verdict === verdict).toSorted((a, b) => size(b) - size(a));
    return first === undefined ? [] : [first];
  });
}

/** Set-ups of one base at one place once: a month of them has one sign, one name and one set of rings. */
export function basesByPlace<T extends { readonly id: string; readonly place: ReportPlace | null }>(
  bases: readonly T[],
  view: PlanView,
): readonly { readonly base: T; readonly id: string; readonly at: Place }[] {
  const groups = new Map<string, { readonly base: T; readonly at: Place; readonly ids: string[] }>();
  for (const base of bases) {
    if (base.place === null) continue;
    const at = view.place(base.place);
    const group = groups.get(placeKey(at));
    if (group === undefined) groups.set(placeKey(at), { base, at, ids: [base.id] });
    else group.ids.push(base.id);
  }
  const all = [...groups.values()];
  const standsAt = (bare: string): number => all.filter(({ ids }) => ids.some((id) => bareName(id) === bare)).length;
  return all.map(({ base, at, ids }) => ({
    base,
    at,
    // A day tells nothing where the base of this name stands nowhere else.
    id: [...new Set(ids.map((id) => (standsAt(bareName(id)) === 1 ? bareName(id) : withoutYear(id))))].join(', '),
  }));
}

/** With month and day of its set-up, and no more. */
function withoutYear(id: string): string {
  const bare = bareName(id);
  return bare === id
    ? id
    : `${bare} ${id.slice(bare.length + ' on 2026-'.length, bare.length + ' on 2026-03-04'.length)}`;
}
