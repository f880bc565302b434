import { streamTimeText } from '../../core/corrections/stream-time-text.js';
import type { CorrectionAudit, SentPosition, StationAudit } from '../../records/corrections/correction-audit.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, counted, fixed, metres, plainInstants } from '../page/words/numbers.js';
import { table } from '../page/table.js';

const MOST_POSITIONS = 100;
const MOST_NAMES = 40;
const MOST_GAPS = 40;

/** What each station sent of itself: coordinates with their times, antennas and receivers, constellations. */
export function stationsSection(audit: CorrectionAudit): Markup {
  return together([
    positionsTable(audit),
    namesTable(audit),
    constellationsTable(audit),
    gapsTable(audit),
    biasesLine(audit.stations),
  ]);
}

function timeOf({ calendar }: CorrectionAudit, ms: number | null): string {
  return ms === null ? UNKNOWN : plainInstants(streamTimeText(calendar, ms));
}

function few(shown: number, all: number): string {
  return shown < all ? ` ${String(shown)} of ${String(all)} are shown.` : '';
}

function positionsTable(audit: CorrectionAudit): Markup {
  const all = audit.stations.flatMap(({ stationId, positions }) =>
    positions.listed.map((position) => ({ stationId, position })),
  );
  if (all.length === 0) return markup`<p>No station sent a coordinate.</p>`;
  const left = audit.stations.reduce((sum, { positions }) => sum + positions.leftOut, 0);
  const shown = all.slice(0, MOST_POSITIONS);
  const caption = few(shown.length, all.length + left);
  return together([
    table({
      label: 'Coordinates sent',
      caption: markup`<b>Coordinates sent.</b> As the stream has them, at the antenna reference point. Nothing in a stream says which frame they are of.${caption}`,
      columns: [
        { head: 'Station', kind: 'text' },
        { head: 'From', kind: 'text' },
        { head: 'To', kind: 'text' },
        { head: 'X', unit: 'm', kind: 'number' },
        { head: 'Y', unit: 'm', kind: 'number' },
        { head: 'Z', unit: 'm', kind: 'number' },
        { head: 'Antenna height', unit: 'm', kind: 'number' },
        { head: 'Said of it', kind: 'prose' },
      ],
      rows: shown.map(({ stationId, position }) => [
        String(stationId),
        timeOf(audit, position.firstMs),
        timeOf(audit, position.lastMs),
        metres(position.arp.xM),
        metres(position.arp.yM),
        metres(position.arp.zM),
        metres(position.antennaHeightM),
        saidOf(position),
      ]),
    }),
    table({
      label: 'The same in latitude and longitude',
      caption: markup`<b>The same in latitude and longitude.</b> The mark lies the sent height of the antenna below it, once.`,
      columns: [
        { head: 'Station', kind: 'text' },
        { head: 'From', kind: 'text' },
        { head: 'Latitude', unit: '°', kind: 'number' },
        { head: 'Longitude', unit: '°', kind: 'number' },
        { head: 'h, antenna', unit: 'm', kind: 'number' },
        { head: 'h, mark', unit: 'm', kind: 'number' },
      ],
      rows: shown.map(({ stationId, position: { geodetic, markGeodetic, firstMs } }) => [
        String(stationId),
        timeOf(audit, firstMs),
        fixed(geodetic.latitudeDeg, 9),
        fixed(geodetic.longitudeDeg, 9),
        metres(geodetic.ellipsoidalHeightM),
        metres(markGeodetic?.ellipsoidalHeightM ?? null),
      ]),
    }),
  ]);
}

function saidOf({ isComputed, antennaHeightM, itrfYear }: SentPosition): string {
  return [
    isComputed ? 'computed, no antenna stands there' : '',
    antennaHeightM === null ? '1005: no antenna height is sent' : '',
    itrfYear === 0 ? '' : `ITRF year ${String(itrfYear)}`,
  ]
    .filter((text) => text !== '')
    .join('; ');
}

function namesTable(audit: CorrectionAudit): Markup {
  const all = audit.stations.flatMap(({ stationId, names }) => names.listed.map((sent) => ({ stationId, sent })));
  if (all.length === 0) return { html: '' };
  return table({
    label: 'Antennas and receivers',
    caption: markup`<b>Antennas and receivers</b>, as the stations name them.${few(Math.min(all.length, MOST_NAMES), all.length)}`,
    columns: [
      { head: 'Station', kind: 'text' },
      { head: 'From', kind: 'text' },
      { head: 'Antenna', kind: 'words' },
      { head: 'Serial', kind: 'words' },
      { head: 'Set-up', kind: 'number' },
      { head: 'Receiver', kind: 'words' },
      { head: 'Firmware', kind: 'words' },
      { head: 'Serial', kind: 'words' },
    ],
    rows: all
      .slice(0, MOST_NAMES)
      .map(({ stationId, sent }) => [
        String(stationId),
        timeOf(audit, sent.firstMs),
        wordOf(sent.antenna),
        wordOf(sent.antennaSerial),
        String(sent.setupId),
        wordOf(sent.receiver),
        wordOf(sent.firmware),
        wordOf(sent.receiverSerial),
      ]),
  });
}

function wordOf(text: string | null): string | Markup {
  return text === null || text.trim() === '' ? UNKNOWN : named(text.trim());
}

function constellationsTable({ stations }: CorrectionAudit): Markup {
  const all = stations.flatMap(({ stationId, constellations }) => constellations.map((own) => ({ stationId, own })));
  if (all.length === 0) return { html: '' };
  return table({
    label: 'Constellations',
    caption: markup`<b>Constellations</b>, by the heads of the messages.`,
    columns: [
      { head: 'Station', kind: 'text' },
      { head: 'Constellation', kind: 'text' },
      { head: 'Messages', kind: 'text' },
      { head: 'Satellites', unit: 'mean', kind: 'number' },
      { head: 'Satellites', unit: 'most', kind: 'number' },
      { head: 'Signals', kind: 'prose' },
    ],
    rows: all.map(({ stationId, own }) => [
      String(stationId),
      own.constellation,
      own.messages.join(', '),
      fixed(own.meanSatellites, 1),
      String(own.mostSatellites),
      own.signals.join(' '),
    ]),
  });
}

/** The longest first. */
function gapsTable(audit: CorrectionAudit): Markup {
  const all = audit.stations.flatMap(({ stationId, epochs }) => epochs.gaps.listed.map((gap) => ({ stationId, gap })));
  const left = audit.stations.reduce((sum, { epochs }) => sum + epochs.gaps.leftOut, 0);
  const incomplete = audit.stations.reduce((sum, { incompleteEpochs }) => sum + incompleteEpochs, 0);
  const words = incomplete === 0 ? '' : ` Of ${counted(incomplete, 'epoch')} the last message did not come.`;
  if (all.length === 0) return markup`<p>Observations came without a gap.${words}</p>`;
  const shown = all.toSorted((a, b) => b.gap.toMs - b.gap.fromMs - (a.gap.toMs - a.gap.fromMs)).slice(0, MOST_GAPS);
  return table({
    label: 'Gaps in the observations',
    caption: markup`<b>Gaps in the observations.</b> The longest first.${words}${few(shown.length, all.length + left)}`,
    columns: [
      { head: 'Station', kind: 'text' },
      { head: 'From', kind: 'text' },
      { head: 'To', kind: 'text' },
      { head: 'Length', unit: 's', kind: 'number' },
    ],
    rows: shown.map(({ stationId, gap }) => [
      String(stationId),
      timeOf(audit, gap.fromMs),
      timeOf(audit, gap.toMs),
      fixed((gap.toMs - gap.fromMs) / 1000, 1),
    ]),
  });
}

function biasesLine(stations: readonly StationAudit[]): Markup {
  const lines = stations.flatMap(({ stationId, biases }) =>
    biases === null
      ? []
      : [
          markup`<li>Station ${String(stationId)}, GLONASS code-phase biases (1230)${biases.isAligned ? ', aligned' : ''}: ${biases.biasesM.map(({ signal, biasM }) => `${signal} ${biasM === null ? 'not valid' : `${fixed(biasM, 2)} m`}`).join(', ')}.</li>`,
        ],
  );
  return lines.length === 0 ? { html: '' } : markup`<ul>${lines}</ul>`;
}
