import { streamTimeText } from '../../../../core/corrections/stream-time-text.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { largestOf } from '../../../../core/numeric/extremes.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type {
  CorrectionAudit,
  SentPosition,
  StationAudit,
  StreamCalendar,
} from '../../../../records/corrections/correction-audit.js';
import { entryAt } from '../../../../records/present.js';
import { paddingOf } from '../../../../tasks/corrections/stream-cost.js';
import type { StreamCost } from '../../../../records/corrections/stream-cost.js';
import { visibleText } from '../../../shell/messages/visible-text.js';
import { gridPairOf } from './position-columns.js';

/** What streams hold, as lines for people. */
export function streamText(
  audit: CorrectionAudit,
  cost: StreamCost | null,
  grid: GridSystem | null,
): readonly string[] {
  const { frames, calendar } = audit;
  return [
    ...audit.files.map(
      ({ name, frames: own, firstMs, lastMs }) =>
        `${name}: ${whole(own.good)} frames, ${spanText(calendar, firstMs, lastMs)}`,
    ),
    `bytes ${whole(frames.bytes)}, of them outside frames ${whole(frames.bytesOutside)}; checks that fail ${whole(frames.failed)}, frames damaged ${whole(frames.damaged)}`,
    `GPS time is ${String(calendar.leapSeconds)} s ahead of UTC (${LEAP_WORDS[calendar.leapFrom]})${calendar.zeroMs === null ? '; the date is not known: times are of the week, --date gives it' : ''}`,
    ...audit.stations.flatMap((station) => ['', ...stationText(station, calendar, grid)]),
    '',
    ...messagesText(audit),
    '',
    ...(cost === null
      ? []
      : [
          `${whole(cost.bytesAnHour)} bytes an hour (${formatFixed(cost.bytesPerS, 1)} a second); a day of ${String(cost.hours)} h ${formatFixed(cost.dayBytes / 1e6, 2)} MB, and ${formatFixed(cost.dayTransportBytes / 1e6, 2)} MB of the network's own`,
        ]),
    `padding ${whole(paddingOf(audit))} bytes`,
  ];
}

const LEAP_WORDS = {
  announced: 'the stream says so',
  reconciled: 'as GPS and GLONASS agree',
  table: 'by the date',
  assumed: 'assumed',
} as const;

function spanText(calendar: StreamCalendar, firstMs: number | null, lastMs: number | null): string {
  return firstMs === null || lastMs === null
    ? 'no times'
    : `${streamTimeText(calendar, firstMs)} to ${streamTimeText(calendar, lastMs)}`;
}

function stationText(station: StationAudit, calendar: StreamCalendar, grid: GridSystem | null): readonly string[] {
  const { positions, names, epochs, constellations, biases, timeChecks } = station;
  return [
    `station ${String(station.stationId)}`,
    ...positions.listed.flatMap((position) => positionText(position, calendar, grid)),
    ...names.listed.map(
      (sent) =>
        `  antenna ${quoted(sent.antenna)}, set-up ${String(sent.setupId)}${labelled('serial', sent.antennaSerial)}${labelled('receiver', sent.receiver)}${labelled('firmware', sent.firmware)}${labelled('serial', sent.receiverSerial)}`,
    ),
    `  ${whole(epochs.count)} epochs${epochs.usualIntervalS === null ? '' : `, one each ${formatFixed(epochs.usualIntervalS, 2)} s`}; incomplete ${whole(station.incompleteEpochs)}; gaps ${whole(epochs.gaps.listed.length + epochs.gaps.leftOut)}${epochs.longestGapS === null ? '' : `, longest interval ${formatFixed(epochs.longestGapS, 1)} s`}`,
    ...epochs.gaps.listed
      .slice(0, MOST_GAPS)
      .map(
        ({ fromMs, toMs }) =>
          `    ${streamTimeText(calendar, fromMs)}: nothing for ${formatFixed((toMs - fromMs) / 1000, 1)} s`,
      ),
    ...constellations.map(
      ({ constellation, signals, meanSatellites, messages }) =>
        `  ${constellation} (${messages.join(', ')}): ${formatFixed(meanSatellites, 1)} satellites${signals.length === 0 ? '' : `, signals ${signals.join(' ')}`}`,
    ),
    ...(biases === null
      ? []
      : [
          `  GLONASS biases${biases.isAligned ? ', aligned' : ''}: ${biases.biasesM.map(({ signal, biasM }) => `${signal} ${biasM === null ? 'not valid' : `${formatFixed(biasM, 2)} m`}`).join(', ')}`,
        ]),
    ...timeChecks.map(
      ({ constellation, against, compared, disagreeing, largestMs }) =>
        `  time of ${constellation} against ${against}: ${String(compared - disagreeing)} of ${String(compared)} epochs the same instant to ${formatFixed(largestMs, 0)} ms`,
    ),
  ];
}

/** Gaps that a person reads; every format holds them all. */
const MOST_GAPS = 10;

/** Both positions, each said to be what it is: a height of the antenna that is put on twice is a known mistake. */
function positionText(position: SentPosition, calendar: StreamCalendar, grid: GridSystem | null): readonly string[] {
  const { arp, geodetic, antennaHeightM, mark, markGeodetic, firstMs, lastMs } = position;
  const pair = gridPairOf(grid, position);
  const place = (point: typeof arp): string =>
    `X ${formatFixed(point.xM, 4)}  Y ${formatFixed(point.yM, 4)}  Z ${formatFixed(point.zM, 4)}`;
  return [
    `  ${spanText(calendar, firstMs, lastMs)}${position.isComputed ? ', computed by a network' : ''}${position.itrfYear === 0 ? '' : `, ITRF year ${String(position.itrfYear)}`}`,
    `    antenna reference point  ${place(arp)}`,
    `      ${formatFixed(geodetic.latitudeDeg, 9)}, ${formatFixed(geodetic.longitudeDeg, 9)}, height ${formatFixed(geodetic.ellipsoidalHeightM, 4)} m`,
    ...(grid === null || pair === null
      ? []
      : [
          `      ${grid.axes.map(({ columnName }, index) => `${columnName} ${formatFixed(entryAt(pair, index), 4)}`).join(', ')}`,
        ]),
    ...(antennaHeightM === null || mark === null || markGeodetic === null
      ? ['    mark: not known, since no antenna height is sent (1005)']
      : [
          `    mark, ${formatFixed(antennaHeightM, 4)} m below     ${place(mark)}`,
          `      height ${formatFixed(markGeodetic.ellipsoidalHeightM, 4)} m`,
        ]),
  ];
}

function messagesText({ messages, bytes }: CorrectionAudit): readonly string[] {
  const seconds = (value: number | null, decimals: number): string =>
    value === null ? '' : formatFixed(value, decimals);
  const rows = [
    ['station', 'message', 'count', 'bytes', 'share', 'interval s', 'announced s', 'longest s', 'padding'],
    ...messages.map((own) => [
      own.stationId === null ? '' : String(own.stationId),
      String(own.number),
      whole(own.messages),
      whole(own.bytes),
      `${formatFixed((100 * own.bytes) / bytes, 1)} %`,
      seconds(own.meanIntervalS, 2),
      seconds(own.announcedIntervalS, 1),
      seconds(own.longestGapS, 1),
      own.paddingBytes === null ? '' : whole(own.paddingBytes),
    ]),
  ];
  const widths = entryAt(rows, 0).map((_, index) => largestOf(rows.map((row) => entryAt(row, index).length)));
  return rows.map((row) => row.map((cell, index) => cell.padStart(entryAt(widths, index))).join('  '));
}

function quoted(text: string): string {
  return `"${visibleText(text.trim())}"`;
}

function labelled(label: string, text: string | null): string {
  return text === null || text === '' ? '' : `, ${label} ${quoted(text)}`;
}

function whole(value: number): string {
  return formatFixed(value, 0);
}
