import type { ReportEpoch, ReportOccupation } from '../../../records/reports/reduction-report.js';
import { drawing, linePath } from '../figure.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { planRange } from '../offset-range.js';
import { plotFrame } from '../plot-frame.js';
import { linearScale } from '../scales.js';
import { crossesPath, dotsPath } from '../shapes.js';
import type { Place } from '../shapes.js';

const WIDTH = 240;
const BOX = { left: 50, top: 6, right: 234, bottom: 190 };

/** Epochs in plan about their mean: dots used, crosses refused, those outside at the edge. */
export function scatterDrawing(
  id: string,
  occupation: ReportOccupation,
  epochs: readonly ReportEpoch[],
  frameName: string,
): Markup {
  const range = planRange(epochs, occupation.circle95M);
  const reach = range.halfM * range.perMetre;
  const east = linearScale([-reach, reach], [BOX.left, BOX.right], 5);
  const north = linearScale([-reach, reach], [BOX.bottom, BOX.top], 5);
  const held = (value: number): number => Math.max(-reach, Math.min(reach, value));
  const place = ({ offset }: ReportEpoch): Place => ({
    x: east.to(held(offset.eastM * range.perMetre)),
    y: north.to(held(offset.northM * range.perMetre)),
  });
  const middle = { x: (BOX.left + BOX.right) / 2, y: (BOX.top + BOX.bottom) / 2 };
  // Without a circle none is drawn.
  const circlePx = ((occupation.circle95M ?? 0) * range.perMetre * (BOX.right - BOX.left)) / (2 * reach);
  const about = occupation.hasMean ? 'the mean' : 'the first epoch';
  return drawing({
    id,
    title: `${occupation.pointId}, occupation ${occupation.occupation}: epochs in plan`,
    description: `East and north of ${about}, ${range.unit}, frame ${frameName}; dots are used epochs, crosses refused ones${circlePx > 0 ? ', the dashed circle is the stated 95 % radius' : ''}.`,
    width: WIDTH,
    height: 232,
    body: together([
      plotFrame(
        BOX,
        { scale: east, title: `east of ${about}, ${range.unit}` },
        { scale: north, title: `north, ${range.unit}` },
      ),
      markup`<clipPath id="${id}-c"><rect x="${at(BOX.left)}" y="${at(BOX.top)}" width="${at(BOX.right - BOX.left)}" height="${at(BOX.bottom - BOX.top)}"/></clipPath>`,
      circlePx > 0
        ? markup`<circle class="inkline dash" clip-path="url(#${id}-c)" cx="${at(middle.x)}" cy="${at(middle.y)}" r="${at(circlePx)}"/>`
        : { html: '' },
      linePath(dotsPath(epochs.filter(({ used }) => used).map(place)), 'dots'),
      linePath(crossesPath(epochs.filter(({ used }) => !used).map(place), 2.5), 'off'),
      occupation.hasMean ? linePath(`M${at(middle.x - 7)} ${at(middle.y)}h14m-7-7v14`, 'inkline') : { html: '' },
    ]),
  });
}
