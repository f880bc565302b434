import {
  correctionStream,
  USUAL_COMPANIONS,
  USUAL_TRANSPORT_BYTES,
} from '../../../../core/planning/stream/correction-stream.js';
import type { CorrectionStream, StreamConstellation } from '../../../../core/planning/stream/correction-stream.js';
import type { MsmKind } from '../../../../core/planning/stream/msm-messages.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { badOption } from './plan-settings.js';

/** A stream as asked for, and what it costs. */
export interface PlanStream {
  readonly kind: MsmKind;
  readonly constellations: readonly StreamConstellation[];
  readonly rateHz: number;
  readonly hours: number;
  readonly rovers: number;
  readonly cost: CorrectionStream;
}

/** Planned hours of work where none are given. */
export const USUAL_HOURS = 8;

const USUAL_SATELLITES = 'gps=10x3,glonass=8x2,galileo=9x3,beidou=14x3';

/** The stream of --stream; null when it is not asked for. Problems: usage-invalid; those of `correctionStream`. */
export function planStream(invocation: Invocation, longestBaselineM: number): Outcome<PlanStream | null> {
  const kind = textOption(invocation, 'stream');
  if (kind === null) return success(null);
  const constellations = parseSatellites(textOption(invocation, 'satellites') ?? USUAL_SATELLITES);
  if (!constellations.ok) return constellations;
  const rateHz = numberOption(invocation, 'rate') ?? 1;
  const hours = numberOption(invocation, 'hours') ?? USUAL_HOURS;
  const rovers = numberOption(invocation, 'rovers') ?? 1;
  const cost = correctionStream({
    kind,
    constellations: constellations.value,
    rateHz,
    companions: USUAL_COMPANIONS,
    transportBytesPerEpoch: USUAL_TRANSPORT_BYTES,
    hours,
    rovers,
    longestBaselineM,
  });
  return cost.ok
    ? success({ kind, constellations: constellations.value, rateHz, hours, rovers, cost: cost.value }, cost.problems)
    : cost;
}

/** `gps=10x3,glonass=8x2`: satellites x signals of each constellation. */
export function parseSatellites(text: string): Outcome<readonly StreamConstellation[]> {
  const found: StreamConstellation[] = [];
  for (const part of text.split(',')) {
    const match = /^([a-z]\w*)=(\d+)[x×](\d+)$/iu.exec(part.trim());
    const satellites = parseDecimal(match?.[2] ?? '');
    const signals = parseDecimal(match?.[3] ?? '');
    const name = match?.[1]?.toLowerCase();
    if (name === undefined || satellites === null || signals === null || found.some((other) => other.name === name))
      return badOption(
        '--satellites',
        part.trim() === '' ? text : part.trim(),
        'NAME=SATELLITESxSIGNALS, each name once, such as gps=10x3',
      );
    found.push({ name, satellites, signals });
  }
  return success(found);
}
