/** What a JSON or GeoJSON file of ours says of its positions. */
export interface StatedSystem {
  readonly system: string;
  /** Decimal year; null: not stated. */
  readonly epochYear: number | null;
}

const SYSTEM = /"system":\s*(?<text>"(?:[^"\\]|\\.)*")/u;
const EPOCH = /"frame_epoch_year":\s*(?<text>null|[\d.]+)/u;
const RECORD = /"schema":\s*"pegbook-run-record"/u;
/** A record begins with its schema. */
const HEAD = 200;

/** Whether the beginning of a document is that of a run record. */
export function isRunRecordHead(text: string): boolean {
  return RECORD.test(text.slice(0, HEAD));
}

/** The system that points are in, by the beginning of a file that this program wrote; null where it does not say. */
export function statedSystem(text: string): StatedSystem | null {
  const system = SYSTEM.exec(text)?.groups?.['text'];
  const epoch = EPOCH.exec(text)?.groups?.['text'];
  if (system === undefined || epoch === undefined) return null;
  return { system: JSON.parse(system) as string, epochYear: JSON.parse(epoch) as number | null };
}
