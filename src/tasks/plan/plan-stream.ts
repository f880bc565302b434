import {
  correctionStream,
  recordedStream,
  USUAL_COMPANIONS,
  USUAL_TRANSPORT_BYTES,
} from '../../core/planning/stream/correction-stream.js';
import type {
  CompanionMessage,
  CorrectionStream,
  StreamConstellation,
} from '../../core/planning/stream/correction-stream.js';
import type { MsmKind } from '../../core/planning/stream/msm-messages.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';

/** A correction stream as it is asked for. */
export type StreamAsked = FormulaStream | RecordedAsked;

interface Asked {
  readonly constellations: readonly StreamConstellation[];
  readonly rateHz: number;
  readonly hours: number;
  readonly rovers: number;
}

/** By kind of message and satellites. */
export interface FormulaStream extends Asked {
  readonly kind: MsmKind;
}

/** As a recording shows it. */
export interface RecordedAsked extends Asked {
  readonly kind: 'recorded';
  readonly observationBytesPerEpoch: number;
  readonly companions: readonly CompanionMessage[];
}

/** A stream as asked for, and what it costs. */
export type PlanStream = StreamAsked & { readonly cost: CorrectionStream };

/**
 * What a stream costs, with transport, and with the usual companion messages or those that were recorded.
 * Given: the stream; the longest planned baseline, metres. Problems: those of `correctionStream`.
 */
export function planStream(asked: StreamAsked, longestBaselineM: number): Outcome<PlanStream> {
  const common = { transportBytesPerEpoch: USUAL_TRANSPORT_BYTES, longestBaselineM };
  const cost =
    asked.kind === 'recorded'
      ? recordedStream({ ...asked, ...common })
      : correctionStream({ ...asked, ...common, companions: USUAL_COMPANIONS });
  return cost.ok ? success({ ...asked, cost: cost.value }, cost.problems) : cost;
}
