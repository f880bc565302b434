import { PROBLEM_CODES } from '../../../records/codes/problem-codes.js';
import type { ReportOccupation, ReportTrend } from '../../../records/reports/reduction-report.js';
import { planRange } from '../../figures/offset-range.js';
import { evenlyPicked } from '../../figures/evenly-picked.js';
import { markup, named } from '../markup.js';
import type { Markup } from '../markup.js';
import { counted, fixed, kilometres, millimetres } from '../words/numbers.js';
import { scatterDrawing } from '../../figures/drawings/scatter-drawing.js';
import { seriesDrawing } from '../../figures/drawings/series-drawing.js';

/** One occupation: what became of it, its scatter, its course, what the trend tests found. */
export function occupationPanel(
  id: string,
  occupation: ReportOccupation,
  mostEpochs: number,
  frameName: string,
): Markup {
  const epochs = drawnEpochs(occupation.epochs, mostEpochs);
  const { pointId, reasons, usedCount, refusedCount, refusals, baselineM, baseId, verdict } = occupation;
  const facts = [
    verdict,
    `${counted(usedCount, 'epoch')} used, ${String(refusedCount)} refused`,
    baselineM === null ? null : `${kilometres(baselineM, 1)} km from ${baseId ?? 'the base'}`,
  ].filter((fact) => fact !== null);
  const why = reasons.map((code) => PROBLEM_CODES[code].meaning).join('; ');
  const refused = refusals.map(([code, count]) => `${String(count)} × ${code}`).join(', ');
  return markup`<article class="stand">
<h3>${named(pointId)}, occupation ${occupation.occupation}</h3>
<p class="small">${facts.join(' · ')}${why === '' ? null : markup`<br>${why}`}${refused === '' ? null : markup`<br>Refused: ${refused}`}</p>
<figure>${scatterDrawing(`${id}-s`, occupation, epochs, frameName)}${seriesDrawing(`${id}-t`, occupation, epochs, frameName)}
<figcaption>${caption(occupation, epochs)}</figcaption></figure>
</article>
`;
}

/** At most so many; refused ones are left out only beyond half of the room. */
function drawnEpochs(epochs: ReportOccupation['epochs'], most: number): ReportOccupation['epochs'] {
  if (epochs.length <= most) return epochs;
  const refused = epochs.filter(({ used }) => !used);
  const good = epochs.filter(({ used }) => used);
  const room = Math.min(refused.length, Math.max(Math.floor(most / 2), most - good.length));
  const kept = new Set([...evenlyPicked(refused, room), ...evenlyPicked(good, most - room)]);
  return epochs.filter((epoch) => kept.has(epoch));
}

function caption(occupation: ReportOccupation, epochs: ReportOccupation['epochs']): Markup {
  const { spreadM, circle95M, trends, usedCount, refusedCount } = occupation;
  const refused = epochs.filter(({ used }) => !used).length;
  const used = epochs.length - refused;
  const said: string[] = [];
  if (spreadM !== null && circle95M !== null)
    said.push(
      `Scatter ${size(spreadM, spreadM)} rms in plan; stated 95 % radius ${size(circle95M, circle95M)}${leavesFigure(occupation, epochs) ? ', whose circle lies outside the figure' : ''}.`,
    );
  else if (spreadM !== null) said.push(`Scatter ${size(spreadM, spreadM)} rms in plan.`);
  if (trends !== null && trends.up.driftSigmaM > 0)
    said.push(
      `Drift ± one sigma expected: ${trendText(trends.east, 'east')}, ${trendText(trends.north, 'north')}, ${trendText(trends.up, 'up')}; ${finding(trends)}.`,
    );
  if (used < usedCount || refused < refusedCount)
    said.push(
      `${String(used)} of ${String(usedCount)} used and ${String(refused)} of ${String(refusedCount)} refused epochs are drawn, evenly picked.`,
    );
  return markup`${said.join(' ')}`;
}

/** Whether nothing of the circle is seen: its corners are the farthest that the figure of the plan reaches. */
function leavesFigure({ circle95M }: ReportOccupation, epochs: ReportOccupation['epochs']): boolean {
  return circle95M !== null && circle95M >= Math.SQRT2 * planRange(epochs, circle95M).halfM;
}

function trendText(trend: ReportTrend, name: string): string {
  return `${name} ${size(trend.driftM, trend.driftM)} ± ${size(trend.driftSigmaM, trend.driftM)}`;
}

/** Millimetres, or metres where the larger is of metres. */
function size(valueM: number, likeM: number): string {
  return Math.abs(likeM) >= 1 ? `${fixed(valueM, 2)} m` : `${millimetres(valueM)} mm`;
}

function finding(trends: NonNullable<ReportOccupation['trends']>): string {
  const axes = (['east', 'north', 'up'] as const).map((name) => ({ name, trend: trends[name] }));
  const drifts = axes.filter(({ trend }) => trend.isDrift).map(({ name }) => name);
  const steps = axes
    .filter(({ trend }) => trend.isStep)
    .map(({ name, trend }) => `${size(trend.stepM, trend.stepM)} ± ${size(trend.stepSigmaM, trend.stepM)} ${name}`);
  return `${drifts.length === 0 ? 'no drift' : `drift in ${drifts.join(', ')}`}, ${steps.length === 0 ? 'no step' : `step of ${steps.join(', ')}`}`;
}
