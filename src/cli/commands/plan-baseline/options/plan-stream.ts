import { WGS84 } from '../../../../core/ellipsoid/ellipsoid.js';
import type { StreamConstellation } from '../../../../core/planning/stream/correction-stream.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { readStreams } from '../../../../files/corrections/read-streams.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { planStream } from '../../../../tasks/plan/plan-stream.js';
import { recordedAsked } from '../../../../tasks/plan/recorded-asked.js';
import type { StreamAsked } from '../../../../tasks/plan/plan-stream.js';
import { numberOption, textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import { badOption } from './plan-settings.js';

/** Planned hours of work where none are given. */
export const USUAL_HOURS = 8;

const USUAL_SATELLITES = 'gps=10x3,glonass=8x2,galileo=9x3,beidou=14x3';

/** The stream of --stream, or of the recording of --stream-from; null when neither is asked for. Problems: usage-invalid; those of `planStream`. */
export async function streamAsked(bench: Workbench, log: RunLog): Promise<Outcome<StreamAsked | null>> {
  const { invocation } = bench;
  const hours = numberOption(invocation, 'hours') ?? USUAL_HOURS;
  const rovers = numberOption(invocation, 'rovers') ?? 1;
  const kind = textOption(invocation, 'stream');
  const recording = textOption(invocation, 'streamFrom');
  if (recording !== null) return recorded(bench, log, recording, { hours, rovers });
  if (kind === null) return success(null);
  const constellations = parseSatellites(textOption(invocation, 'satellites') ?? USUAL_SATELLITES);
  if (!constellations.ok) return constellations;
  const rateHz = numberOption(invocation, 'rate') ?? 1;
  return checked({ kind, constellations: constellations.value, rateHz, hours, rovers });
}

/** The stream that a recording shows. */
async function recorded(
  { context, breathe }: Workbench,
  log: RunLog,
  path: string,
  { hours, rovers }: { readonly hours: number; readonly rovers: number },
): Promise<Outcome<StreamAsked>> {
  const read = await readStreams([path], context, breathe);
  if (!read.ok) return read;
  const { count, files } = read.value;
  for (const { source, frames } of files) log.input(source, 'correction stream', frames.good, frames.damaged);
  const asked = recordedAsked(count.result(null, WGS84), hours, rovers);
  return asked.ok ? checked(asked.value) : asked;
}

/** What is wrong with it is said before anything is planned. */
function checked(asked: StreamAsked): Outcome<StreamAsked> {
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
