import { largestOf } from '../../../core/numeric/extremes.js';
import type { LocalVector } from '../../../records/points/point.js';
import type { ReportEpoch, ReportOccupation, ReportTrend } from '../../../records/reports/reduction-report.js';
import { drawing, label, linePath } from '../figure.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at, utcWords } from '../../page/words/numbers.js';
import { offsetRange } from '../offset-range.js';
import type { OffsetRange } from '../offset-range.js';
import { plotFrame } from '../plot-frame.js';
import { linearScale, scaleAboutNought } from '../scales.js';
import type { Scale } from '../scales.js';
import { crossesPath, dotsPath } from '../shapes.js';
import type { Place } from '../shapes.js';

const WIDTH = 360;
const LEFT = 50;
const RIGHT = 352;
const TALL = 55;
const APART = 13.5;

const AXES: readonly { readonly name: 'east' | 'north' | 'up'; readonly of: (offset: LocalVector) => number }[] = [
  { name: 'east', of: (offset) => offset.eastM },
  { name: 'north', of: (offset) => offset.northM },
  { name: 'up', of: (offset) => offset.upM },
];

/** East, north and up of an occupation over time, with the mean, and the drift or step where one was found. */
export function seriesDrawing(
  id: string,
  occupation: ReportOccupation,
  epochs: readonly ReportEpoch[],
  frameName: string,
): Markup {
  const range = offsetRange(
    epochs,
    ({ eastM, northM, upM }) => Math.max(Math.abs(eastM), Math.abs(northM), Math.abs(upM)),
    null,
  );
  const lastS = largestOf(
    epochs.map(({ timeS }) => timeS),
    1,
  );
  const time = linearScale([0, lastS], [LEFT + 4, RIGHT - 4], 6);
  const about = occupation.hasMean ? 'the mean' : 'the first epoch';
  const panels = AXES.map(({ name, of }, index) =>
    panel(
      { name, of, top: 6 + index * (TALL + APART), isLast: index === AXES.length - 1 },
      occupation,
      epochs,
      time,
      range,
      lastS,
    ),
  );
  return drawing({
    id,
    title: `${occupation.pointId}, occupation ${occupation.occupation}: east, north and up over time`,
    description: `Offsets from ${about}, ${range.unit}, frame ${frameName}, against ${occupation.hasTimes ? 'seconds since the first epoch' : 'the number of the epoch'}; dots are used epochs, crosses refused ones.`,
    width: WIDTH,
    height: 232,
    body: together(panels),
  });
}

interface Panel {
  readonly name: 'east' | 'north' | 'up';
  readonly of: (offset: LocalVector) => number;
  readonly top: number;
  readonly isLast: boolean;
}

function panel(
  { name, of, top, isLast }: Panel,
  occupation: ReportOccupation,
  epochs: readonly ReportEpoch[],
  time: Scale,
  range: OffsetRange,
  lastS: number,
): Markup {
  const box = { left: LEFT, top, right: RIGHT, bottom: top + TALL };
  const reach = range.halfM * range.perMetre;
  const scale = scaleAboutNought(reach, [box.bottom, box.top]);
  const place = ({ timeS, offset }: ReportEpoch): Place => ({
    x: time.to(timeS),
    y: scale.to(Math.max(-reach, Math.min(reach, of(offset) * range.perMetre))),
  });
  const trend = occupation.trends?.[name] ?? null;
  const start =
    occupation.hasTimes && occupation.firstMs !== null
      ? `seconds after ${utcWords(occupation.firstMs, 8)}`
      : 'number of the epoch';
  return together([
    plotFrame(box, isLast ? { scale: time, title: start } : null, { scale, title: `${name}, ${range.unit}` }),
    occupation.hasMean ? linePath(`M${at(box.left)} ${at(scale.to(0))}H${at(box.right)}`, 'inkline') : { html: '' },
    linePath(dotsPath(epochs.filter(({ used }) => used).map(place)), 'dots'),
    linePath(crossesPath(epochs.filter(({ used }) => !used).map(place), 2.5), 'off'),
    trend === null ? { html: '' } : found(trend, epochs, time, scale, range, lastS, box),
  ]);
}

/** The drift as a dashed line through the used epochs, a step as an upright one. */
function found(
  trend: ReportTrend,
  epochs: readonly ReportEpoch[],
  time: Scale,
  scale: Scale,
  range: OffsetRange,
  lastS: number,
  box: { readonly top: number; readonly bottom: number },
): Markup {
  const used = epochs.filter((epoch) => epoch.used);
  // Drawn only where there is a step, and an epoch that was used.
  const fromS = used[0]?.timeS ?? 0;
  const toS = used[used.length - 1]?.timeS ?? lastS;
  const half = (trend.driftM / 2) * range.perMetre;
  const drift = trend.isDrift
    ? linePath(
        `M${at(time.to(fromS))} ${at(scale.to(-half))}L${at(time.to(toS))} ${at(scale.to(half))}`,
        'inkline dash',
      )
    : null;
  // Drawn only where there is a step, and an epoch that was used.
  const x = time.to(trend.stepTimeS ?? 0);
  const step =
    trend.isStep && trend.stepTimeS !== null
      ? markup`${linePath(`M${at(x)} ${at(box.top)}V${at(box.bottom)}`, 'inkline dash')}${label(x + 3, box.top + 10, 'step', 's halo')}`
      : null;
  return markup`${drift}${step}`;
}
