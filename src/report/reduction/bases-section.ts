import type { ReductionReport, ReportBase } from '../../records/reports/reduction-report.js';
import { BEND_FARTHEST_M } from '../../core/observation/uncertainty/vector-bend.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, kilometres, metres, millimetres } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** What the known coordinates of the bases moved, and what that cannot mend. */
export function basesSection({ bases: all, worked }: ReductionReport): Markup {
  // The page of one point is that of its own base.
  const bases = worked === undefined || worked.length === 0 ? all : all.filter(({ farthestM }) => farthestM !== null);
  if (bases.length === 0)
    return markup`<p>No base is described in the session: baselines are unknown, and the uncertainty leaves out the base.</p>`;
  return markup`<p>A fixed solution measures the geocentric vector from base to rover. Where a base broadcast another coordinate than its own, every point measured from it is moved by the same geocentric vector, known minus broadcast; the local components are for reading only. The vectors themselves were bent a little while they were measured, and no later correction removes that: it is part of the covariance of each point.</p>
${table({
  label: 'Bases',
  caption: markup`<b>Bases.</b> Sigmas are one sigma per axis. “Error avoided” and “Bend” hold at the farthest point of each base.`,
  columns: [
    { head: 'Base', kind: 'words' },
    { head: 'Baselines start at', kind: 'text' },
    { head: 'Antenna', unit: 'm, vertical', kind: 'number' },
    { head: 'Sigma', unit: 'plan / height, mm', kind: 'number' },
    { head: 'Moved', unit: 'm', kind: 'number' },
    { head: 'Moved', unit: 'east / north / up, m', kind: 'number' },
    { head: 'Farthest', unit: 'km', kind: 'number' },
    { head: 'Error avoided', unit: 'mm, up to', kind: 'number' },
    { head: 'Bend', unit: 'plan / height, mm', kind: 'number' },
    { head: 'Matters from', unit: 'km', kind: 'number' },
  ],
  rows: bases.map(rowOf),
})}
<p>“Error avoided” is what adding the base's grid or geodetic differences at the rover would have cost. “Bend” is one sigma of what a wrong base coordinate did to the vectors, in the direction that bends most; it grows with the baseline, all points of the base share it, and from the distance in the last column on it may be a third of a point’s variance or of a tolerance.</p>`;
}

function rowOf(base: ReportBase): readonly (string | Markup)[] {
  const { correction } = base;
  const bend = correction?.bend ?? null;
  return [
    named(base.id),
    base.at === 'mark' ? 'the mark' : 'the antenna',
    metres(base.antennaVerticalM),
    `${millimetres(base.sigmaHorizontalM, 0)} / ${millimetres(base.sigmaVerticalM, 0)}`,
    correction === null ? 'as broadcast' : metres(correction.magnitudeM),
    correction === null
      ? UNKNOWN
      : [correction.local.eastM, correction.local.northM, correction.local.upM]
          .map((valueM) => metres(valueM))
          .join(' / '),
    kilometres(base.farthestM, 1),
    millimetres(correction?.shortcutErrorM ?? null),
    bend === null ? UNKNOWN : `${millimetres(bend.planM)} / ${millimetres(bend.upM)}`,
    bend === null
      ? UNKNOWN
      : bend.mattersFromM === null
        ? `none to ${kilometres(BEND_FARTHEST_M, 0)}`
        : kilometres(bend.mattersFromM, 1),
  ];
}
