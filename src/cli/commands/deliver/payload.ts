import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import type { ChosenOutputs } from '../../../files/delivery/choose-outputs.js';
import { deliveredChecks, deliveryReport } from '../../../files/delivery/delivery-sheet.js';
import { gatherFiles } from '../../../files/delivery/gather-files.js';
import type { JobInPlace } from '../../../files/job/load-job.js';
import type { VerifiedJob } from '../../../files/ledger/verify-job.js';
import { loadGeographicSystem } from '../../../files/systems/load-systems.js';
import type { BagFile } from '../../../io/bag/bag.js';
import { DEFAULT_CSV_WRITE } from '../../../io/csv/csv-write.js';
import { LEDGER_NAME } from '../../../io/ledger/ledger-line.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import { frontSheet } from '../../../report/delivery/front-sheet.js';
import { recordFacts } from '../../../tasks/job/delivery/record-facts.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import type { Workbench } from '../../shell/workbench.js';
import { coordinateFacts, coordinateText } from './coordinate-list.js';
import type { CoordinateList } from './coordinate-list.js';
import { digestsText } from './digests-text.js';

/** What a delivery is written from. */
export interface DeliveryParts {
  readonly inPlace: JobInPlace;
  readonly verified: VerifiedJob;
  readonly chosen: ChosenOutputs;
  readonly record: FinishedRun;
  readonly list: CoordinateList;
}

/** The files of a delivery. Problems stop the run. */
export async function payloadOf(
  bench: Workbench,
  { inPlace, verified, chosen, record, list }: DeliveryParts,
): Promise<readonly BagFile[]> {
  const csv = DEFAULT_CSV_WRITE;
  const { points, others } = chosen;
  // A record without a frame names none, and no map is made of it: see `mapProblem`.
  const frame = recordFacts(record).systems.find(({ name }) => name === 'fixes')?.value ?? '';
  const coordinates = coordinateText(list, 'csv', frame, csv);
  const noMap = mapProblem(frame);
  const files = bench.take(
    await gatherFiles(verified.folder, [points, chosen.record, ...others.map(({ output }) => output)]),
  );
  const report = deliveryReport(
    inPlace,
    verified,
    record,
    coordinateFacts(list),
    bench.take(await deliveredChecks(verified, chosen)),
    {
      notes: noMap === null ? [] : [`No GeoJSON: ${noMap}.`],
      coordinatesSha256: createHash('sha256').update(coordinates, 'utf8').digest('hex'),
    },
  );
  return [
    { path: 'front-sheet.html', bytes: text(frontSheet(report)) },
    { path: 'coordinates.csv', bytes: text(coordinates) },
    ...(noMap === null
      ? [{ path: 'coordinates.geojson', bytes: text(coordinateText(list, 'geojson', frame, csv)) }]
      : []),
    { path: 'digests.csv', bytes: text(digestsText(verified.standing, csv)) },
    ...files,
    { path: LEDGER_NAME, bytes: verified.ledgerBytes },
  ];
}

/** Why the positions are not for GeoJSON, in words; null: they are. Given: the frame as a record names it. */
function mapProblem(frame: string): string | null {
  const code = /^EPSG:\d+/u.exec(frame)?.[0];
  if (code === undefined) return 'the frame of latitude and longitude has no code to be known by';
  const system = loadGeographicSystem(code);
  return system.ok ? (geojsonFrameProblem(system.value)?.message ?? null) : `${code} is not known`;
}

function text(content: string): Uint8Array {
  return Buffer.from(content, 'utf8');
}
