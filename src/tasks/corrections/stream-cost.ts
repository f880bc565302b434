import { USUAL_TRANSPORT_BYTES } from '../../core/planning/stream/correction-stream.js';
import type { CorrectionAudit } from '../../records/corrections/correction-audit.js';
import type { StreamCost } from '../../records/corrections/stream-cost.js';

/** Cost of an hour and of a day of so many hours; null where the stream holds no time. One packet an epoch. */
export function streamCost({ bytes, seconds, epochs }: CorrectionAudit, hours: number): StreamCost | null {
  if (seconds === null) return null;
  const bytesAnHour = (bytes / seconds) * 3600;
  const transportBytesAnHour = ((epochs * USUAL_TRANSPORT_BYTES) / seconds) * 3600;
  return {
    bytesPerS: bytes / seconds,
    bytesAnHour,
    transportBytesAnHour,
    hours,
    dayBytes: bytesAnHour * hours,
    dayTransportBytes: transportBytesAnHour * hours,
  };
}

/** Bytes of contents that nothing needs, of the messages of which that is known. */
export function paddingOf({ messages }: CorrectionAudit): number {
  return messages.reduce((sum, { paddingBytes }) => (paddingBytes === null ? sum : sum + paddingBytes), 0);
}
