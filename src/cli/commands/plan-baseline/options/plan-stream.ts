import type { StreamConstellation } from '../../../../core/planning/stream/correction-stream.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { planStream } from '../../../../tasks/plan/plan-stream.js';
import type { StreamAsked } from '../../../../tasks/plan/plan-stream.js';
import { numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { badOption } from './plan-settings.js';

/** Planned hours of work where none are given. */
export const USUAL_HOURS = 8;

const USUAL_SATELLITES = 'gps=10x3,glonass=8x2,galileo=9x3,beidou=14x3';

/** The stream of --stream; null when it is not asked for. Problems: usage-invalid; those of `planStream`. */
export function streamAsked(invocation: Invocation): Outcome<StreamAsked | null> {
  const kind = textOption(invocation, 'stream');
  if (kind === null) return success(null);
  const constellations = parseSatellites(textOption(invocation, 'satellites') ?? USUAL_SATELLITES);
  if (!constellations.ok) return constellations;
  const asked = {
    kind,
    constellations: constellations.value,
    rateHz: numberOption(invocation, 'rate') ?? 1,
    hours: numberOption(invocation, 'hours') ?? USUAL_HOURS,
    rovers: numberOption(invocation, 'rovers') ?? 1,
  };
  // What is wrong with it is said before anything is read.
  const stream = planStream(asked, 0);
  return stream.ok ? success(asked, stream.problems) : stream;
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
