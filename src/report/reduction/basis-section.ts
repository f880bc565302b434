import type { ReductionReport } from '../../records/reports/reduction-report.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed, metres, trueMinus } from '../page/words/numbers.js';
import { filesTable } from '../page/sections/files-table.js';
import { table } from '../page/table.js';

/** What the numbers rest on: systems, grids, limits, files. */
export function basisSection(report: ReductionReport): Markup {
  const { frame, geoid, acceptance, tolerance, conditions, files, command } = report;
  const [first, second] = frame.axes;
  const facts: readonly (readonly [string, string])[] = [
    ['Grid system', `${frame.gridName} (${frame.gridMethod})`],
    [
      'Axes',
      [first, second]
        .map((axis) => `${axis.abbreviation}, ${axis.name}, grows to the ${axis.direction}, ${axis.unitName}`)
        .join('; '),
    ],
    ['Frame of the fixes', frame.fixesName],
    ['Epoch of the fixes', frame.epochYear === null ? 'not stated' : fixed(frame.epochYear, 2)],
    ['Change of frame', frame.shift ?? 'none'],
    ['Frame of the points', frame.pointsName],
    [
      'Geoid',
      geoid === null
        ? 'none'
        : `${geoid.name}, ${geoid.interpolation} interpolation, one sigma ${geoid.sigmaM === null ? 'not stated' : `${metres(geoid.sigmaM)} m`}`,
    ],
    ['Geoid, SHA-256', geoid === null ? 'none' : (geoid.sha256 ?? 'built in')],
    ['Geoid, test value', trueMinus(geoid?.test ?? 'none')],
    ['Planning model', `${conditions} conditions`],
    ['Limits on epochs', limitsOn(acceptance)],
    [
      'Tolerance, 95 %',
      `plan ${tolerance.horizontalM === null ? 'none' : `${metres(tolerance.horizontalM)} m`}, height ${tolerance.verticalM === null ? 'none' : `${metres(tolerance.verticalM)} m`}`,
    ],
  ];
  return markup`${table({
    label: 'Systems and settings',
    caption: markup`<b>Systems and settings.</b>`,
    columns: [
      { head: 'What', kind: 'text' },
      { head: 'In force', kind: 'prose' },
    ],
    rows: facts,
  })}
${filesTable(files)}
<p class="small">Command: <code>pegbook ${command.join(' ')}</code></p>`;
}

function limitsOn(acceptance: ReductionReport['acceptance']): string {
  const {
    maxPdop,
    maxCorrectionAgeS,
    minSatellites,
    maxTiltDeg,
    maxBaselineM,
    minEpochs,
    minDurationS,
    maxSigmaHorizontalM,
    maxSigmaVerticalM,
    occupationGapS,
  } = acceptance;
  const said = (words: string, value: number | null, unit: string): string =>
    value === null ? '' : `${words} ${String(value)}${unit}`;
  return [
    `solution ${acceptance.solution.join(' or ')}`,
    said('PDOP at most', maxPdop, ''),
    said('correction age at most', maxCorrectionAgeS, ' s'),
    said('satellites at least', minSatellites, ''),
    said('tilt at most', maxTiltDeg, '°'),
    said('baseline at most', maxBaselineM, ' m'),
    said('epochs at least', minEpochs, ''),
    said('duration at least', minDurationS, ' s'),
    said('reported plan sigma at most', maxSigmaHorizontalM, ' m'),
    said('reported height sigma at most', maxSigmaVerticalM, ' m'),
    said('a new occupation after', occupationGapS, ' s without epochs'),
  ]
    .filter((text) => text !== '')
    .join('; ');
}
