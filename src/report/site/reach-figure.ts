import type { SiteReport } from '../../records/reports/site-report.js';
import { wideFigure } from '../figures/figure.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { fixed } from '../page/words/numbers.js';
import { xyDrawing } from '../figures/drawings/xy-drawing.js';
import type { XyLine } from '../figures/drawings/xy-drawing.js';

/** What the fit itself adds to a point, in plan and in height, over the distance from the middle of the control. */
export function reachFigure({ reach, radiusM, systemName, bufferM }: SiteReport, number: number): Markup {
  const inKm = radiusM >= 1000;
  const x = (distanceM: number): number => (inKm ? distanceM / 1000 : distanceM);
  // Without heights there is no curve of heights.
  const highest = reach.reduce((most, { horizontalM, heightM }) => Math.max(most, horizontalM, heightM ?? 0), 0);
  const unit = lengthUnit(highest);
  const lines: readonly XyLine[] = [
    {
      places: reach.map(({ distanceM, horizontalM }) => ({ x: x(distanceM), y: horizontalM * unit.perMetre })),
      classes: 'blue',
      word: 'plan',
    },
    {
      places: reach.flatMap(({ distanceM, heightM }) =>
        heightM === null ? [] : [{ x: x(distanceM), y: heightM * unit.perMetre }],
      ),
      classes: 'inkline dash',
      word: 'height',
    },
    {
      places: [
        { x: x(radiusM), y: 0 },
        { x: x(radiusM), y: highest * unit.perMetre },
      ],
      classes: 'off dash',
      word: 'control ends',
    },
  ];
  return wideFigure(
    xyDrawing({
      id: 'reach-figure',
      title: 'Sigma of the fit with distance',
      description:
        'One sigma that the fit itself adds to a point, over the distance from the middle of the control, in the worst direction.',
      acrossTitle: `from the middle of the control, ${inKm ? 'km' : 'm'}`,
      upTitle: `one sigma, ${unit.name}`,
      points: [],
      lines: lines.filter(({ places }) => places.length > 0),
      width: 760,
      height: 320,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`What the fit itself adds to a point, one sigma in the worst direction: full line in plan, dashed in height. Fitted to ${systemName}. It says nothing of what the model leaves out; a plane over a curved geoid is wrong outside its control by more. Points more than ${fixed(bufferM, 1)} m outside are refused unless asked for.`,
  );
}
