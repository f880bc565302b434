import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { BroadcastCheck } from '../../../records/corrections/broadcast-check.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import type { LinkReport } from '../../../records/corrections/link-report.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { streamCost } from '../../../tasks/corrections/stream-cost.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { RecordHead, WrittenRecord } from '../../outputs/record-writer.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import { broadcastText } from './say/broadcast-text.js';
import { OUTAGE_COLUMNS } from './say/link-columns.js';
import { linkMembers } from './say/link-json.js';
import { linkText } from './say/link-text.js';
import { MESSAGE_COLUMNS } from './say/message-columns.js';
import { positionColumns } from './say/position-columns.js';
import { costMembers, streamWhole } from './say/stream-json.js';
import { streamText } from './say/stream-text.js';
import { outagePieces } from './write-link-tables.js';

/** What was found, to be written. */
export interface FoundCorrections {
  /** Null: no stream is named. */
  readonly audit: CorrectionAudit | null;
  readonly checks: readonly BroadcastCheck[];
  /** Null: no fixes are named. */
  readonly link: LinkReport | null;
  readonly answer: RunAnswer;
  /** Of a day. */
  readonly hours: number;
  readonly grid: GridSystem | null;
}

/** Says which columns the table of --output will have, before anything is read: messages, places as GeoJSON, or without streams outages. */
export function sayColumns(bench: Workbench, hasStreams: boolean, grid: GridSystem | null): void {
  const columns: readonly { readonly name: string }[] = !hasStreams
    ? OUTAGE_COLUMNS
    : bench.format === 'geojson'
      ? positionColumns(grid)
      : MESSAGE_COLUMNS;
  bench.columns(columns.map(({ name }) => name));
}

/** Writes it: lines for people, a table (messages; without streams outages), places as GeoJSON, or JSON with everything. */
export async function writeCorrections(bench: Workbench, found: FoundCorrections): Promise<void> {
  const { invocation } = bench;
  const output = textOption(invocation, 'output');
  const isForPeople = textOption(invocation, 'format') === null && output === null && !bench.isViewed();
  const sink = await bench.open(output ?? '-');
  const pieces = isForPeople ? peopleLines(found) : tablePieces(bench, found);
  for (const piece of pieces) await sink.write(piece);
}

function peopleLines({ audit, checks, link, hours, grid }: FoundCorrections): Iterable<string> {
  const lines = [
    ...(audit === null
      ? []
      : [...streamText(audit, streamCost(audit, hours), grid), ...broadcastText(checks, audit.calendar)]),
    ...(link === null ? [] : linkText(link)),
  ];
  // Without streams the first line would be empty.
  return (audit === null ? lines.slice(1) : lines).map((line) => `${line}\n`);
}

function tablePieces(bench: Workbench, found: FoundCorrections): Iterable<string> {
  const { audit, checks, link, answer, hours, grid } = found;
  const head = {
    schema: 'pegbook-corrections',
    members: {},
    summary: { ...answerJson(answer), ...(audit !== null && costMembers(audit, streamCost(audit, hours))) },
    whole: {
      ...(audit !== null && streamWhole(audit, checks, grid)),
      ...(link !== null && { link: linkMembers(link) }),
    },
  };
  if (audit !== null)
    return bench.format === 'geojson'
      ? stationPieces(bench, audit, grid, { ...head, list: 'stations' })
      : messagePieces(bench, audit, { ...head, list: 'messages' });
  return link === null
    ? []
    : outagePieces(bench.format, link, { ...head, list: 'outages' }, csvWriteOptions(bench.invocation));
}

function messagePieces({ invocation, format }: Workbench, audit: CorrectionAudit, head: RecordHead): Iterable<string> {
  const cells = createCellTexts(MESSAGE_COLUMNS);
  const rows = audit.messages.map((messages): WrittenRecord => ({
    cells: cells({ messages, calendar: audit.calendar, allBytes: audit.bytes }),
    geometry: { kind: 'lines', lines: [] },
  }));
  return recordPieces(format, cellColumns(MESSAGE_COLUMNS), rows, head, csvWriteOptions(invocation));
}

/** A place for each coordinate that a station sent. */
function stationPieces(
  { invocation, format }: Workbench,
  audit: CorrectionAudit,
  grid: GridSystem | null,
  head: RecordHead,
): Iterable<string> {
  const columns = positionColumns(grid);
  const cells = createCellTexts(columns);
  const rows = audit.stations.flatMap(({ stationId, positions }) =>
    positions.listed.map((position): WrittenRecord => ({
      cells: cells({ stationId, position, calendar: audit.calendar, grid }),
      geometry: {
        kind: 'point',
        place: position.geodetic,
        ellipsoidalHeightM: position.geodetic.ellipsoidalHeightM,
      },
    })),
  );
  return recordPieces(format, cellColumns(columns), rows, head, csvWriteOptions(invocation));
}
