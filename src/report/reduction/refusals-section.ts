import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { ReductionReport } from '../../records/reports/reduction-report.js';
import { wideFigure } from '../figures/figure.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed } from '../page/words/numbers.js';
import { refusalDrawing } from '../figures/drawings/refusal-drawing.js';
import { table } from '../page/table.js';

/** Which epochs were refused, why and when. */
export function refusalsSection(
  report: ReductionReport,
  number: number,
): { readonly body: Markup; readonly figures: number } {
  const { refusals, timeline, epochsRefused, epochsUsed } = report;
  if (refusals.length === 0)
    return {
      body: markup`<p>No epoch was refused; ${counted(epochsUsed, 'epoch')} ${epochsUsed === 1 ? 'was' : 'were'} used.</p>`,
      figures: 0,
    };
  const drawn =
    timeline === null
      ? null
      : wideFigure(
          refusalDrawing('refused', timeline),
          number,
          markup`Used and refused epochs over time, in pieces of ${pieceWords(timeline.binMs)}; each row is drawn to its own largest count, its total stands at the end.`,
        );
  return {
    body: markup`<p>${counted(epochsRefused, 'epoch')} of ${String(epochsUsed + epochsRefused)} were refused. An epoch may have several reasons.</p>
${drawn}
${table({
  label: 'Reasons of refusal',
  caption: markup`<b>Reasons of refusal.</b> The limit is the session's.`,
  columns: [
    { head: 'Reason', kind: 'text' },
    { head: 'Epochs', kind: 'number' },
    { head: 'Limit', kind: 'text' },
    { head: 'Meaning', kind: 'prose' },
    { head: 'What mends it', kind: 'prose' },
  ],
  rows: refusals.map(([code, count]) => [
    code,
    String(count),
    limitOf(code, report),
    PROBLEM_CODES[code].meaning,
    PROBLEM_CODES[code].fix,
  ]),
})}`,
    figures: drawn === null ? 0 : 1,
  };
}

function limitOf(code: ProblemCode, { acceptance }: ReductionReport): string {
  const most = (value: number | null, unit: string): string =>
    value === null ? '' : `at most\u00A0${String(value)}${unit}`;
  switch (code) {
    case 'epoch-not-fixed':
      return acceptance.solution.join(', ');
    case 'epoch-correction-age':
      return most(acceptance.maxCorrectionAgeS, '\u00A0s');
    case 'epoch-satellites':
      return acceptance.minSatellites === null ? '' : `at least\u00A0${String(acceptance.minSatellites)}`;
    case 'epoch-pdop':
      return most(acceptance.maxPdop, '');
    case 'epoch-tilt':
      return most(acceptance.maxTiltDeg, '°');
    case 'epoch-baseline':
      return most(acceptance.maxBaselineM, '\u00A0m');
    case 'epoch-sigma-horizontal':
      return most(acceptance.maxSigmaHorizontalM, '\u00A0m');
    case 'epoch-sigma-vertical':
      return most(acceptance.maxSigmaVerticalM, '\u00A0m');
    default:
      return '';
  }
}

/** How long a piece of the figure is: from two minutes on in minutes. */
function pieceWords(binMs: number): string {
  return binMs < 120_000 ? `${fixed(binMs / 1000, 0)} s` : `some ${fixed(binMs / 60_000, 0)} minutes`;
}
