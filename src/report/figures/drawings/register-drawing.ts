import { largestOf } from '../../../core/numeric/extremes.js';
import type { RegisterReport, RegisterRow } from '../../../records/reports/register-report.js';
import { entryAt } from '../../../records/present.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { label, linePath } from '../figure.js';
import { drawnMarks } from '../marks.js';
import { plotFrame } from '../plot-frame.js';
import { linearScale } from '../scales.js';
import type { Scale } from '../scales.js';

/** Size of the drawing of one mark or base. */
export const REGISTER_WIDTH = 720;
export const REGISTER_HEIGHT = 308;

const LEFT_PANEL: readonly [number, number] = [58, 352];
const RIGHT_PANEL: readonly [number, number] = [420, 708];
const TALL = 74;
const APART = 16;
/** Room above the first row for the date of a step. */
const TOP = 16;
/** Half of what a date takes, in units of the drawing. */
const HALF_DATE = 31;
/** Residuals of a millimetre are not drawn as if they were a landslide. */
const LEAST_MM = 5;

/** Residuals over the set-ups at the left, the sums of the control chart at the right, an axis a row. */
export function registerDrawing(
  id: string,
  rows: readonly RegisterRow[],
  { axisNames, limit }: Pick<RegisterReport, 'axisNames' | 'limit'>,
): Markup {
  return together(
    rows.map((row, place) => {
      const top = TOP + place * (TALL + APART);
      const isLast = place === rows.length - 1;
      return together([
        residuals(`${id}-${row.axis}`, row, axisNames[row.axis], top, isLast),
        sums(row, limit, top, isLast),
      ]);
    }),
  );
}

function residuals(id: string, row: RegisterRow, name: string, top: number, isLast: boolean): Markup {
  const { values, movement, verdict } = row;
  const box = { left: LEFT_PANEL[0], right: LEFT_PANEL[1], top, bottom: top + TALL };
  const reach =
    1.1 *
    largestOf(
      values.map(({ residualM }) => Math.abs(1000 * residualM)),
      LEAST_MM,
    );
  const across = setUpScale(values.length, LEFT_PANEL);
  const up = linearScale([-reach, reach], [box.bottom, box.top], 4);
  const from = movement === null ? -1 : values.findIndex(({ day }) => day === movement.fromDay);
  const x = at(across.to(from + 0.5));
  return together([
    plotFrame(box, isLast ? { scale: across, title: 'set-up' } : null, { scale: up, title: `${name}, mm` }),
    linePath(`M${at(box.left)} ${at(up.to(0))}H${at(box.right)}`, 'inkline'),
    drawnMarks(
      id,
      values.map(({ residualM }, i) => ({
        at: { x: across.to(i + 1), y: up.to(1000 * residualM) },
        // From a step that is believed on the mark is not where the control has it; one set-up may be so alone.
        ...(from >= 0 && (movement?.kind === 'alone' ? i === from : i >= from) && verdict === 'no'
          ? { symbol: 'times' as const, classes: 'bad', area: 40 }
          : { symbol: 'circle' as const, classes: 'mark', area: 24 }),
      })),
    ),
    movement === null || from < 0
      ? { html: '' }
      : markup`${linePath(`M${x} ${at(box.top)}V${at(box.bottom)}`, 'inkline dash')}${label(dateX(across.to(from + 0.5)), box.top - 4, movement.fromDay, 'm s halo')}`,
  ]);
}

/** The date of a step stands above the frame, where no set-up is, as near to its line as its panel lets it. */
function dateX(x: number): number {
  return Math.min(Math.max(x, LEFT_PANEL[0] + HALF_DATE), LEFT_PANEL[1] - HALF_DATE);
}

/** The upper sum above the line, the lower one below it, the limits dashed. */
function sums({ values }: RegisterRow, limit: number, top: number, isLast: boolean): Markup {
  const box = { left: RIGHT_PANEL[0], right: RIGHT_PANEL[1], top, bottom: top + TALL };
  const reach =
    1.1 *
    largestOf(
      values.flatMap(({ upper, lower }) => [upper, lower]),
      limit,
    );
  const across = setUpScale(values.length, RIGHT_PANEL);
  const up = linearScale([-reach, reach], [box.bottom, box.top], 4);
  const line = (of: (place: number) => number): string =>
    values.map((_, i) => `${i === 0 ? 'M' : 'L'}${at(across.to(i + 1))} ${at(up.to(of(i)))}`).join('');
  return together([
    plotFrame(box, isLast ? { scale: across, title: 'set-up' } : null, { scale: up, title: 'sums' }),
    linePath(`M${at(box.left)} ${at(up.to(0))}H${at(box.right)}`, 'axis'),
    linePath(
      [limit, -limit].map((level) => `M${at(box.left)} ${at(up.to(level))}H${at(box.right)}`).join(''),
      'off dash',
    ),
    linePath(
      line((i) => entryAt(values, i).upper),
      'inkline',
    ),
    linePath(
      line((i) => -entryAt(values, i).lower),
      'inkline',
    ),
  ]);
}

/** Set-ups are counted from 1, and have whole numbers only. */
function setUpScale(count: number, range: readonly [number, number]): Scale {
  const scale = linearScale([0.5, count + 0.5], range, Math.min(count, 8));
  return { ...scale, ticks: scale.ticks.filter(Number.isInteger) };
}
