import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cell-text.js';
import type { BroadcastCheck } from '../../../records/corrections/broadcast-check.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import type { RunAnswer } from '../../../records/run-answer.js';
import { streamCost } from '../../../tasks/corrections/stream-cost.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { RecordHead, WrittenRecord } from '../../outputs/record-writer.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import { broadcastText } from './say/broadcast-text.js';
import { MESSAGE_COLUMNS } from './say/message-columns.js';
import { positionColumns } from './say/position-columns.js';
import { costMembers, streamWhole } from './say/stream-json.js';
import { streamText } from './say/stream-text.js';

/** What was found, to be written. */
export interface FoundStreams {
  readonly audit: CorrectionAudit;
  readonly checks: readonly BroadcastCheck[];
  readonly answer: RunAnswer;
  /** Of a day. */
  readonly hours: number;
  readonly grid: GridSystem | null;
}

/** Writes it: lines for people, messages as a table or as JSON with everything, or places as GeoJSON. */
export async function writeStreams(bench: Workbench, found: FoundStreams): Promise<void> {
  const { invocation, format } = bench;
  const output = textOption(invocation, 'output');
  const isForPeople = textOption(invocation, 'format') === null && output === null && !bench.isViewed();
  const sink = await bench.open(output ?? '-');
  const { audit, checks, answer, hours, grid } = found;
  const cost = streamCost(audit, hours);
  if (isForPeople) {
    const lines = [...streamText(audit, cost, grid), ...broadcastText(checks, audit.calendar)];
    await sink.write(lines.map((line) => `${line}\n`).join(''));
    return;
  }
  const head = {
    schema: 'pegbook-corrections',
    list: format === 'geojson' ? 'stations' : 'messages',
    members: {},
    summary: { ...answerJson(answer), ...costMembers(audit, cost) },
    whole: streamWhole(audit, checks, grid),
  };
  const pieces = format === 'geojson' ? stationPieces(bench, found, head) : messagePieces(bench, found, head);
  for (const piece of pieces) await sink.write(piece);
}

function messagePieces({ invocation, format }: Workbench, { audit }: FoundStreams, head: RecordHead): Iterable<string> {
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
  { audit, grid }: FoundStreams,
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
