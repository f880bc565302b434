import type { CorrectionAudit, SentConstellation, SentMessages } from '../../records/corrections/correction-audit.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { RecordedAsked } from './plan-stream.js';

/** Older messages of both frequencies, which have no mask of signals. */
const TWO_SIGNALS: ReadonlySet<number> = new Set([1003, 1004, 1011, 1012]);

/**
 * The stream of a plan as a recording shows it: observations at their usual interval, so that gaps of the recording make no day cheaper,
 * and the other messages that came more than once at theirs.
 * Given: what was recorded, of one station; hours; rovers. Problems: stream-no-frames where it holds no epochs, or several stations.
 */
export function recordedAsked(audit: CorrectionAudit, hours: number, rovers: number): Outcome<RecordedAsked> {
  const [station, other] = audit.stations.filter(({ constellations }) => constellations.length > 0);
  const stepS = station?.epochs.usualIntervalS ?? null;
  if (station === undefined || other !== undefined || stepS === null)
    return failure(
      errorProblem('stream-no-frames', {
        message:
          other === undefined
            ? 'the recording holds no two epochs that would show an interval'
            : 'the recording holds observations of several stations',
        hint: 'name the recording of one base, of a minute at least',
      }),
    );
  const numbers = new Set(station.constellations.flatMap(({ messages }) => messages));
  const isObservation = ({ number }: SentMessages): boolean => numbers.has(number);
  const observed = audit.messages.filter(isObservation).reduce((sum, { bytes }) => sum + bytes, 0);
  return success({
    kind: 'recorded',
    constellations: station.constellations.map(constellationOf),
    // To a millionth, as it is printed.
    rateHz: Math.round(1e6 / stepS) / 1e6,
    hours,
    rovers,
    observationBytesPerEpoch: observed / station.epochs.count,
    companions: audit.messages.flatMap((own) =>
      isObservation(own) || own.usualIntervalS === null
        ? []
        : // Several may come at a time, as ephemerides do: the bytes of a time, not of a message.
          [{ number: own.number, frameBytes: own.bytes / own.count, intervalS: own.usualIntervalS }],
    ),
  });
}

function constellationOf(own: SentConstellation): RecordedAsked['constellations'][number] {
  const signals =
    own.signals.length > 0 ? own.signals.length : own.messages.some((number) => TWO_SIGNALS.has(number)) ? 2 : 1;
  return { name: own.constellation.toLowerCase(), satellites: Math.round(own.meanSatellites), signals };
}
