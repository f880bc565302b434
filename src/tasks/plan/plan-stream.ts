import {
  correctionStream,
  USUAL_COMPANIONS,
  USUAL_TRANSPORT_BYTES,
} from '../../core/planning/stream/correction-stream.js';
import type { CorrectionStream, StreamConstellation } from '../../core/planning/stream/correction-stream.js';
import type { MsmKind } from '../../core/planning/stream/msm-messages.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';

/** A correction stream as it is asked for. */
export interface StreamAsked {
  readonly kind: MsmKind;
  readonly constellations: readonly StreamConstellation[];
  readonly rateHz: number;
  readonly hours: number;
  readonly rovers: number;
}

/** A stream as asked for, and what it costs. */
export interface PlanStream extends StreamAsked {
  readonly cost: CorrectionStream;
}

/**
 * What a stream costs, with the usual companion messages and transport.
 * Given: the stream; the longest planned baseline, metres. Problems: those of `correctionStream`.
 */
export function planStream(asked: StreamAsked, longestBaselineM: number): Outcome<PlanStream> {
  const cost = correctionStream({
    ...asked,
    companions: USUAL_COMPANIONS,
    transportBytesPerEpoch: USUAL_TRANSPORT_BYTES,
    longestBaselineM,
  });
  return cost.ok ? success({ ...asked, cost: cost.value }, cost.problems) : cost;
}
