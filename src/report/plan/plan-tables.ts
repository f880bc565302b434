import type { PlanReport } from '../../records/reports/plan-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, counted, fixed, kilometres, metres } from '../page/words/numbers.js';
import { byNeed } from '../page/words/by-need.js';
import { table } from '../page/table.js';
import { toleranceClasses } from './tolerance-classes.js';

const MOST_TOLERANCES = 40;
const MOST_WORST = 4;

/** How far each pair of tolerances reaches. */
export function rangesTable({ tolerances }: PlanReport): Markup {
  const classes = toleranceClasses({ tolerances });
  // Without tolerances there are no ranges.
  const columns = tolerances[0]?.ranges.map(({ conditions }) => conditions) ?? [];
  return table({
    label: 'Usable ranges',
    caption: markup`<b>Usable ranges.</b> How far from a base each pair of tolerances can be held, at equal heights, and which axis decides.${tolerances.length > MOST_TOLERANCES ? ` The first ${String(MOST_TOLERANCES)} of ${String(tolerances.length)} pairs.` : ''}`,
    columns: [
      ...(classes.length > 1 ? [{ head: 'Class', kind: 'text' as const }] : []),
      { head: 'Plan', unit: 'tolerance, m', kind: 'number' },
      { head: 'Height', unit: 'tolerance, m', kind: 'number' },
      { head: 'Places', kind: 'number' },
      ...columns.map((conditions) => ({ head: conditions, unit: 'km', kind: 'number' as const })),
    ],
    rows: tolerances
      .slice(0, MOST_TOLERANCES)
      .map(({ horizontalM, verticalM, targets, ranges }, index) => [
        ...(classes.length > 1 ? [classes[index]?.letter ?? UNKNOWN] : []),
        metres(horizontalM),
        metres(verticalM),
        String(targets),
        ...ranges.map(({ rangeM, decidedBy }) =>
          rangeM > 0 ? `${kilometres(rangeM, 1)} (${decidedBy === 'horizontal' ? 'plan' : 'height'})` : UNKNOWN,
        ),
      ]),
  });
}

/** Every place with what is predicted of it. */
export function targetsTable({ targets, targetCount, conditions }: PlanReport): Markup {
  const leftOut =
    targets.length < targetCount
      ? ` ${String(targets.length)} of ${String(targetCount)} are shown, those outside first; the data file has all.`
      : '';
  return table({
    label: 'Every place',
    caption: markup`<b>Places.</b> Predicted at 95 % in ${conditions} conditions. What is outside stands first; of each the largest against its tolerance first.${leftOut}`,
    columns: [
      { head: 'Place', kind: 'words' },
      { head: 'Verdict', kind: 'text' },
      { head: 'Base', kind: 'words' },
      { head: 'Baseline', unit: 'km', kind: 'number' },
      { head: 'Plan', unit: '95 %, m', kind: 'number' },
      { head: 'Tolerance', unit: 'm', kind: 'number' },
      { head: 'Height', unit: '95 %, m', kind: 'number' },
      { head: 'Tolerance', unit: 'm', kind: 'number' },
      { head: 'What would help', kind: 'prose' },
    ],
    rows: byNeed(targets, ({ isWithin }) => Number(isWithin), sizeOf).map((target) => [
      named(target.id),
      target.isWithin ? 'within' : markup`<span class="no">outside</span>`,
      named(target.baseId),
      kilometres(target.baselineM),
      metres(target.circle95M),
      metres(target.toleranceHorizontalM),
      metres(target.vertical95M),
      metres(target.toleranceVerticalM),
      target.wayOut,
    ]),
  });
}

/** The larger of plan and height over its tolerance; without one an axis is within. */
function sizeOf({
  circle95M,
  toleranceHorizontalM,
  vertical95M,
  toleranceVerticalM,
}: PlanReport['targets'][number]): number {
  return Math.max(circle95M / (toleranceHorizontalM ?? Infinity), vertical95M / (toleranceVerticalM ?? Infinity));
}

const DEMANDS: Readonly<Record<string, string>> = {
  'no-cellular': 'no mobile network',
  'cellular-unknown': 'mobile network not known',
  'sky-too-low': 'sky not open enough',
  'sky-unknown': 'sky not known',
  'cost-too-high': 'costs too much',
  'cost-unknown': 'cost not known',
};

/** Candidates by their rank; nothing where there were none. */
export function rankingTable({ ranking, targetCount }: PlanReport): Markup {
  if (ranking === null) return { html: '' };
  const { candidates, excluded } = ranking;
  const out =
    excluded.length === 0
      ? ''
      : markup` ${counted(excluded.length, 'candidate')} did not meet the demands: ${excluded.slice(0, 12).map(({ id, reason }, index) => markup`${index === 0 ? '' : ', '}${named(id)} (${DEMANDS[reason] ?? reason})`)}${excluded.length > 12 ? ' …' : ''}.`;
  return table({
    label: 'Candidates',
    caption: markup`<b>Candidates.</b> Each as the only base, the best first. The worst share is the largest distance over usable range; up to 1 it serves every place.${out}`,
    columns: [
      { head: 'Candidate', kind: 'words' },
      { head: 'Chosen', kind: 'text' },
      { head: 'Worst share', kind: 'number' },
      { head: 'Farthest', unit: 'km', kind: 'number' },
      { head: 'Served', unit: `of ${String(targetCount)}`, kind: 'number' },
      { head: 'Decided by', kind: 'words' },
      { head: 'Mobile network', kind: 'text' },
      { head: 'Sky', kind: 'number' },
      { head: 'Cost', kind: 'number' },
    ],
    rows: candidates.map((own) => [
      named(own.id),
      own.isChosen ? markup`<span class="no">chosen</span>` : '',
      fixed(own.worstRatio, 3),
      kilometres(own.worstDistanceM, 1),
      String(own.served),
      markup`${own.worstPlaces.slice(0, MOST_WORST).map((name, index) => markup`${index === 0 ? '' : ', '}${named(name)}`)}${own.worstPlaces.length > MOST_WORST ? ' …' : ''}`,
      own.cellular === null ? UNKNOWN : own.cellular ? 'yes' : 'no',
      own.skyScore === null ? UNKNOWN : String(own.skyScore),
      own.cost === null ? UNKNOWN : String(own.cost),
    ]),
  });
}
