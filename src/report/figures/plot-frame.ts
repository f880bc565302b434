import { label, linePath } from './figure.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at, decimalsOfStep, fixed } from '../page/words/numbers.js';
import type { Scale } from './scales.js';

export interface PlotBox {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface PlotAxis {
  readonly scale: Scale;
  readonly title: string;
  /** How a tick is written; else with the decimals of the step. */
  readonly write?: (value: number) => string;
}

/** Two axes with their ticks, grid lines and titles. A title of '' leaves the ticks alone; null axes are not drawn. */
export function plotFrame(box: PlotBox, across: PlotAxis | null, up: PlotAxis | null): Markup {
  const pieces: Markup[] = [];
  let grid = '';
  if (across !== null) {
    for (const tick of across.scale.ticks) {
      const x = across.scale.to(tick);
      grid += `M${at(x)} ${at(box.top)}V${at(box.bottom)}`;
      pieces.push(label(x, box.bottom + 15, written(across, tick), 'm s q'));
    }
    if (across.title !== '') pieces.push(label((box.left + box.right) / 2, box.bottom + 29, across.title, 'm s'));
  }
  if (up !== null) {
    for (const tick of up.scale.ticks) {
      const y = up.scale.to(tick);
      grid += `M${at(box.left)} ${at(y)}H${at(box.right)}`;
      pieces.push(label(box.left - 5, y + 3.5, written(up, tick), 'e s q'));
    }
    if (up.title !== '')
      pieces.push(
        markup`<text class="m s" transform="translate(${at(titleLeft(box, up))} ${at((box.top + box.bottom) / 2)}) rotate(-90)">${up.title}</text>`,
      );
  }
  return together([
    linePath(grid, 'grid'),
    linePath(`M${at(box.left)} ${at(box.top)}V${at(box.bottom)}H${at(box.right)}`, 'axis'),
    ...pieces,
  ]);
}

/** Clear of the longest tick, and inside the drawing. */
function titleLeft(box: PlotBox, up: PlotAxis): number {
  const longest = up.scale.ticks.reduce((most, tick) => Math.max(most, written(up, tick).length), 0);
  return Math.max(10.5, box.left - Math.max(33, 14 + 6.4 * longest));
}

function written({ scale, write }: PlotAxis, tick: number): string {
  return write === undefined ? fixed(tick, decimalsOfStep(scale.step)) : write(tick);
}
