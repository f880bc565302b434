import { largestOf } from '../../core/numeric/extremes.js';
import type { CheckReport } from '../../records/reports/check-report.js';
import { wideFigure } from '../figures/figure.js';
import { xyDrawing } from '../figures/drawings/xy-drawing.js';
import type { XyPoint } from '../figures/drawings/xy-drawing.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';

/** The sets of a field procedure in their order: what each differs from the nominal values, and the limits of the screen. */
export function setsFigure({ sets }: CheckReport, number: number): Markup | null {
  if (sets === null || sets.rows.length === 0) return null;
  const { distanceLimitM, heightLimitM, rows } = sets;
  const errors = rows.flatMap(({ distanceErrorM, heightErrorM }) => [Math.abs(distanceErrorM), Math.abs(heightErrorM)]);
  const { name: unit, perMetre } = lengthUnit(largestOf([...errors, distanceLimitM, heightLimitM]));
  const points = rows.flatMap(({ name, distanceErrorM, heightErrorM }, index): readonly XyPoint[] => {
    const isFar = Math.abs(distanceErrorM) > distanceLimitM;
    const isHigh = Math.abs(heightErrorM) > heightLimitM;
    const at = (valueM: number): Pick<XyPoint, 'x' | 'y' | 'name'> => ({ x: index + 1, y: perMetre * valueM, name });
    return [
      { ...at(distanceErrorM), symbol: isFar ? 'times' : 'circle', classes: isFar ? 'bad' : 'mark' },
      {
        ...at(heightErrorM),
        symbol: isHigh ? 'cross' : 'square',
        classes: isHigh ? 'bad' : 'doubt',
        name: isHigh ? name : '',
      },
    ];
  });
  const limits = [
    { y: perMetre * distanceLimitM, word: 'limit in distance' },
    { y: -perMetre * distanceLimitM, word: '' },
    { y: perMetre * heightLimitM, word: 'limit in height' },
    { y: -perMetre * heightLimitM, word: '' },
  ];
  return wideFigure(
    xyDrawing({
      id: 'sets',
      title: 'Sets of the field procedure',
      description:
        'Measured minus nominal of each set in the order of series and sets: circles distances, squares height differences, dashed their limits.',
      acrossTitle: 'set, in the order of series',
      upTitle: `measured minus nominal, ${unit}`,
      points,
      lines: [],
      limits,
      width: 760,
      height: 340,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`Measured minus nominal of each set, named series.set. Filled circles: distance. Open squares: height difference. Beyond: slanting crosses in distance, upright crosses in height. Dashed: the limits of the screen for gross errors; the statements judge the deviations of all sets together.`,
  );
}
