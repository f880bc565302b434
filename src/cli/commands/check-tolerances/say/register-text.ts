import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { movementWay } from '../../../../core/quality/register/movement-way.js';
import type { CheckAxes } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { RegisterRun } from '../../../../tasks/check/register/run-register.js';
import { entryAt, present } from '../../../../records/present.js';
import type { RegisterRow } from '../../../../records/reports/register-report.js';
import { registerAxisName } from '../register/register-columns.js';

/** Half of an interval of 95 %, in sigmas. */
const HALF_95 = 1.96;

/** What a register says to people: how much there was, what moved, what is to be watched. */
export function registerLines({ gathered, rows }: RegisterRun, axes: CheckAxes): readonly string[] {
  const { marks, setUps, used, leftOut } = gathered;
  const days = [...new Set(setUps.map(({ day }) => day))];
  return [
    `register: ${counted(used, 'occupation')} of ${counted(marks.length, 'mark')} in ${counted(setUps.length, 'set-up')}, ${entryAt(days, 0)} to ${entryAt(days, days.length - 1)}${leftOut === 0 ? '' : `; ${counted(leftOut, 'occupation')} rejected or without a covariance, left out`}`,
    ...registerFindings(rows, axes),
  ];
}

/** One sentence for each movement, and each chart that is for review. */
export function registerFindings(rows: readonly RegisterRow[], axes: CheckAxes): readonly string[] {
  const lines = rows.filter(({ verdict }) => verdict !== 'within').map((row) => registerFinding(row, rows, axes));
  return lines.length > 0 ? lines : ['no mark and no base has moved, as far as these days show'];
}

function registerFinding(row: RegisterRow, rows: readonly RegisterRow[], axes: CheckAxes): string {
  const { movement, signal, reasons } = row;
  const along = registerAxisName(row.axis, axes);
  if (movement !== null) {
    const others = rows.filter((own) => own !== row && own.axis === row.axis && own.movement !== null).map(nameOf);
    const who = row.what === 'base' ? `${nameOf(row)}: all marks seen from it lie` : `${nameOf(row)} lies`;
    return [
      `${who} ${millimetres(Math.abs(movement.sizeM))} ± ${millimetres(HALF_95 * movement.sigmaM)} mm (95 %) ${movementWay(row.axis, movement.sizeM, axes.signs)} ${spanOf(movement.kind, movement.fromDay)}, ${counted(movement.epochs, 'set-up')}`,
      ...(reasons.includes('register-set-up-off')
        ? ['look at the pole, antenna height, centring and point names of that set-up']
        : []),
      ...(movement.other === null
        ? []
        : [
            `${millimetres(Math.abs(movement.other.sizeM))} mm ${movementWay(row.axis, movement.other.sizeM, axes.signs)} ${spanOf(movement.other.kind, movement.other.day)} explains the residuals as well`,
          ]),
      ...(reasons.includes('register-moved-once') ? ['a movement, or a mistake of that day'] : []),
      ...(others.length > 0 ? [`the same days fit ${others.join(' or ')}`] : []),
    ].join('; ');
  }
  const { day, beganDay } = present(signal, 'what a chart that is for review crosses');
  const moved = rows.filter((own) => own.axis === row.axis && own.movement !== null).map(nameOf);
  const follows = moved.length === 0 ? 'no step is believed' : `what ${moved.join(' or ')} did shows here too`;
  return `${nameOf(row)}: its chart in ${along} crosses the limit on ${day}, sum ${formatFixed(Math.max(row.largestUpper, row.largestLower), 1)} of 5, since ${beganDay}; ${follows}`;
}

function spanOf(kind: 'step' | 'alone', day: string): string {
  return kind === 'step' ? `from ${day} on` : `on ${day} alone`;
}

/** A mark by its name, a base said to be one. */
export function nameOf({ what, id }: Pick<RegisterRow, 'what' | 'id'>): string {
  return what === 'base' ? `base ${id}` : id;
}

function millimetres(valueM: number): string {
  return formatFixed(1000 * valueM, 1);
}

function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}
