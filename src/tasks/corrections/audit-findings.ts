import { roundedCoordinate } from '../../core/corrections/rounded-coordinate.js';
import { streamTimeText } from '../../core/corrections/stream-time-text.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type {
  CorrectionAudit,
  SentPosition,
  StationAudit,
  StreamCalendar,
} from '../../records/corrections/correction-audit.js';
import type { FrameCounts } from '../../records/corrections/frame-counts.js';
import { entryAt } from '../../records/present.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import { intervalFindings } from './time/interval-findings.js';

/** Findings that are to be known and leave the answer as it is: nothing is wrong with them. */
const KNOWLEDGE: ReadonlySet<ProblemCode> = new Set(['stream-station-computed', 'stream-null-antenna', 'stream-cut']);

/** Whether a finding asks for a review. */
export function isForReview({ code }: Problem): boolean {
  return !KNOWLEDGE.has(code);
}

/** A message with the time was made within so many seconds of the epochs it stands between; more is a wrong date or clock. */
const STATED_OFF_S = 60;

/** What is to be known of the streams, gravest matters of each station first. */
export function auditFindings(audit: CorrectionAudit): readonly Problem[] {
  return [
    ...audit.stations.flatMap((station) => [
      ...positionFindings(station, audit.calendar),
      ...namesFindings(station, audit.calendar),
      ...sendingFindings(station),
    ]),
    ...intervalFindings(audit),
    ...recordingFindings(audit),
  ];
}

/** Line feeds from which their companions say something: all of twenty stand behind a return by chance once in 256²⁰. */
const LEAST_LINE_FEEDS = 20;

/** Whether a copy that takes files for text has put a return before each line feed. */
function isOfText({ lineFeeds, afterReturns, bytesOutside }: FrameCounts): boolean {
  return bytesOutside > 0 && lineFeeds >= LEAST_LINE_FEEDS && afterReturns === lineFeeds;
}

/** Of bytes of another kind one in so many begins like a frame: a preamble of eight bits, and six bits of nothing. */
const BYTES_A_FALSE_FRAME = 16_384;
/** So many times what chance gives, and so many at least, are frames that were changed. An assumption. */
const FOUL_TIMES = 10;
const LEAST_FOUL = 5;

/** Whether more places fail than bytes of another kind between the frames explain, and none of them was found damaged where the next begins. */
function isFoul({ failed, damaged, bytesOutside }: FrameCounts): boolean {
  return damaged === 0 && failed >= LEAST_FOUL && failed > (FOUL_TIMES * bytesOutside) / BYTES_A_FALSE_FRAME;
}

/** A larger share of frames that repeat the one before is no chance of a station that sends little else. An assumption. */
const REPEATED_SHARE = 0.1;

/** What is to be known of the recording itself. */
function recordingFindings({ frames, shortMessages, calendar, epochs }: CorrectionAudit): readonly Problem[] {
  const found: Problem[] = [];
  const add = (code: ProblemCode, message: string): void => {
    found.push(warningProblem(code, { message }));
  };
  const { statedOffS } = calendar;
  if (statedOffS !== null && Math.abs(statedOffS) > STATED_OFF_S)
    add(
      'stream-date-disagrees',
      `the stream says a time that is ${formatFixed(statedOffS, 0)} s from that of its epochs`,
    );
  if (frames.damaged > 0)
    add(
      'stream-damaged',
      `${counted(frames.damaged, 'frame', 'frames')} of ${String(frames.good + frames.damaged)} came damaged`,
    );
  if (isOfText(frames))
    add(
      'stream-damaged',
      `every byte 0A stands behind 0D, and ${String(frames.bytesOutside)} of ${String(frames.bytes)} bytes lie in no frame: the recording was copied as text, which changes it`,
    );
  else if (isFoul(frames))
    add(
      'stream-damaged',
      `${String(frames.failed)} places begin like a frame and fail their check, and ${String(frames.bytesOutside)} of ${String(frames.bytes)} bytes lie in no frame: the recording was changed on its way`,
    );
  if (epochs > 0 && frames.repeated > frames.good * REPEATED_SHARE)
    add(
      'stream-repeated',
      `${counted(frames.repeated, 'frame', 'frames')} of ${String(frames.good)} are byte for byte the one before: what is counted of them counts twice`,
    );
  if (frames.isCut) add('stream-cut', 'the recording ends within a frame');
  if (shortMessages > 0)
    add('stream-short-message', `${counted(shortMessages, 'message is', 'messages are')} shorter than they say`);
  return found;
}

/** Farther above or below the ellipsoid, metres, stands no base; one that was told no coordinate sends 0, 0, 0. */
const MOST_HEIGHT_M = 20_000;

function isNowhere({ geodetic }: SentPosition): boolean {
  return Math.abs(geodetic.ellipsoidalHeightM) > MOST_HEIGHT_M;
}

function positionFindings(
  { stationId, positions, constellations }: StationAudit,
  calendar: StreamCalendar,
): readonly Problem[] {
  const where = `station ${String(stationId)}`;
  const say = (code: ProblemCode, text: string): Problem => warningProblem(code, { message: `${where}: ${text}` });
  const { listed, leftOut } = positions;
  if (listed.length === 0)
    return constellations.length === 0
      ? []
      : [say('stream-no-position', 'observations without a coordinate (1005, 1006)')];
  const found: Problem[] = [];
  for (const [index, now] of listed.entries()) {
    if (index === 0) continue;
    const before = entryAt(listed, index - 1);
    const at = now.firstMs === null ? '' : ` at ${streamTimeText(calendar, now.firstMs)}`;
    const moved = Math.hypot(now.arp.xM - before.arp.xM, now.arp.yM - before.arp.yM, now.arp.zM - before.arp.zM);
    if (moved > 0)
      found.push(say('stream-position-changed', `the coordinate changed by ${formatFixed(moved, 4)} m${at}`));
    else if (
      now.isComputed !== before.isComputed ||
      now.itrfYear !== before.itrfYear ||
      now.quarterCycle !== before.quarterCycle
    )
      found.push(say('stream-position-changed', `what is said beside the coordinate changed${at}`));
    if (before.antennaHeightM !== null && now.antennaHeightM !== null && before.antennaHeightM !== now.antennaHeightM)
      found.push(
        say(
          'stream-antenna-height-changed',
          `the antenna height changed from ${formatFixed(before.antennaHeightM, 4)} m to ${formatFixed(now.antennaHeightM, 4)} m${at}`,
        ),
      );
  }
  if (leftOut > 0) found.push(say('stream-position-changed', `${String(leftOut)} more changes`));
  if (listed.some(isNowhere))
    found.push(say('stream-no-position', 'the coordinate sent is no place on the ground: the base was told none'));
  if (listed.some(({ isComputed }) => isComputed))
    found.push(say('stream-station-computed', 'a network computes it; no antenna stands there'));
  const roundings = new Set(
    listed.flatMap((position) => {
      if (isNowhere(position)) return [];
      const { arp, geodetic } = position;
      const rounded = roundedCoordinate(arp, geodetic);
      if (rounded === null) return [];
      return rounded.of === 'geocentric'
        ? [`X, Y and Z are multiples of ${String(rounded.stepM)} m`]
        : [`latitude and longitude are multiples of ${formatFixed(rounded.stepDeg, 6)}°`];
    }),
  );
  for (const text of roundings) found.push(say('stream-position-rounded', `${text}: the coordinate was typed in`));
  return found;
}

/** In names that the trade gives antennas whose observations are reduced already. Source: IGS-RCVR-ANT, from memory. */
const NULL_ANTENNA = 'NULLANTENNA';

function namesFindings({ stationId, names }: StationAudit, calendar: StreamCalendar): readonly Problem[] {
  const where = `station ${String(stationId)}`;
  const found: Problem[] = names.listed.slice(1).map(({ antenna, receiver, firstMs }) =>
    warningProblem('stream-names-changed', {
      message: `${where}: antenna ${antenna.trim()}${receiver === null ? '' : `, receiver ${receiver}`}${firstMs === null ? '' : ` from ${streamTimeText(calendar, firstMs)} on`}`,
    }),
  );
  const isNull = names.listed.find(({ antenna }) =>
    antenna
      .toUpperCase()
      .replace(/[\s_-]/gu, '')
      .includes(NULL_ANTENNA),
  );
  if (isNull !== undefined)
    found.push(warningProblem('stream-null-antenna', { message: `${where}: antenna ${isNull.antenna.trim()}` }));
  return found;
}

/** Times of an epoch that so large a share of epochs says otherwise disagree; fewer are of epochs that lost messages. */
const DISAGREEING_SHARE = 0.1;

/** So many epochs that lack a message say that the stream lost messages, and not a few at a break. An assumption. */
const LOSSY_SHARE = 0.1;
/** Of such a stream a clock is wrong where most epochs say so, and more than these: what is lost makes few disagree. An assumption. */
const MOST_OF_LOST = 4;
/** So many steps back of an incomplete epoch are of messages that were lost before the clock knew its leap seconds. An assumption. */
const STEPS_OF_LOST = 0.5;

function sendingFindings(station: StationAudit): readonly Problem[] {
  const { stationId, constellations, biases, timeChecks, incompleteEpochs, epochs } = station;
  const say = (code: ProblemCode, text: string): Problem =>
    warningProblem(code, { message: `station ${String(stationId)}: ${text}` });
  // Where the last message of an epoch is lost the next one's stand beside its first: what is lost blames no clock.
  const isLossy = incompleteEpochs > epochs.count * LOSSY_SHARE;
  const found: Problem[] = [];
  if (biases === null && constellations.some(({ constellation }) => constellation === 'GLONASS'))
    found.push(say('stream-no-biases', 'GLONASS comes without message 1230'));
  for (const { constellation, against, compared, disagreeing } of timeChecks)
    if (disagreeing > compared * DISAGREEING_SHARE && (!isLossy || disagreeing > Math.max(MOST_OF_LOST, compared / 2)))
      found.push(
        say(
          'stream-times-disagree',
          `${constellation} is another instant than ${against} in ${String(disagreeing)} of ${String(compared)} epochs`,
        ),
      );
  if (incompleteEpochs > 0)
    found.push(
      say('stream-epochs-incomplete', `${String(incompleteEpochs)} of ${String(epochs.count)} epochs are incomplete`),
    );
  if (epochs.stepsBack > incompleteEpochs * STEPS_OF_LOST)
    found.push(say('stream-time-back', `time steps back ${counted(epochs.stepsBack, 'time', 'times')}`));
  return found;
}

/** A number with the word for one or for more. */
function counted(count: number, one: string, more: string): string {
  return `${String(count)} ${count === 1 ? one : more}`;
}
