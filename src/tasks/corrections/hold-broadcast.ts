import { streamOfUtc } from '../../core/corrections/stream-time-text.js';
import { geocentricToLocal, localToGeocentric } from '../../core/ellipsoid/local-frame.js';
import type { LocalFrame } from '../../core/ellipsoid/local-frame.js';
import { smallestOf } from '../../core/numeric/extremes.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import type { BroadcastCheck, BroadcastMatch } from '../../records/corrections/broadcast-check.js';
import type {
  CorrectionAudit,
  SentPosition,
  StationAudit,
  StreamCalendar,
} from '../../records/corrections/correction-audit.js';
import type { GeocentricPoint, LocalVector } from '../../records/points/point.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { Answer } from '../../records/runs/run-answer.js';

/** A base as its session describes it. */
export interface HeldBase {
  readonly id: string;
  /** Times that the set-up holds for, UTC; null: open. */
  readonly fromMs: number | null;
  readonly toMs: number | null;
  /** What the session says was broadcast, at the antenna reference point. */
  readonly broadcastArp: GeocentricPoint;
  readonly frame: LocalFrame;
  /** Null: the session states none. */
  readonly antennaHeightM: number | null;
  /** The day of a job whose date gave the times; null: the session states them, or none. */
  readonly dayHeld: string | null;
}

/**
 * What may differ: a stream holds tenths of a millimetre, and a session written with nine decimals of a degree and four of
 * a metre the same. A millimetre is more than both together.
 */
export const BROADCAST_TOLERANCE_M = 0.001;

/**
 * Holds what a session says of its bases against what was sent: each base against every coordinate of its station in its time.
 * A station is the base with its number as id; else the only one there is; else the nearest. A coordinate that is not matched by number and lies at
 * the place of another base of its time is of that one.
 * Given: streams; bases; how far each of east, north and up may differ, metres.
 */
export function holdBroadcasts(
  audit: CorrectionAudit,
  bases: readonly HeldBase[],
  toleranceM: number,
): readonly BroadcastCheck[] {
  return bases.flatMap((base) => {
    const match = stationOf(base, audit.stations);
    const positions = match === null ? [] : positionsOf(base, match, bases, audit.calendar);
    if (match === null || positions.length === 0) return [notSent(base)];
    return positions.map((position) => hold(base, match, position, toleranceM));
  });
}

/** The bases that streams can tell of, and the days of those whose date no stream is of. Where they tell of none, all: then nothing was sent for them. */
export function basesOfStreams(
  { stations, calendar }: Pick<CorrectionAudit, 'stations' | 'calendar'>,
  bases: readonly HeldBase[],
): { readonly bases: readonly HeldBase[]; readonly otherDays: readonly string[] } {
  const isOfStreams = (base: HeldBase): boolean =>
    base.dayHeld === null ||
    stations.some(({ positions }) => positions.listed.some((position) => isInTime(position, base, calendar)));
  const own = bases.filter(isOfStreams);
  if (own.length === 0) return { bases, otherDays: [] };
  const others = bases.filter((base) => !isOfStreams(base));
  const otherDays = [...new Set(others.flatMap(({ dayHeld }) => (dayHeld === null ? [] : [dayHeld])))];
  return { bases: own, otherDays };
}

interface Match {
  readonly station: StationAudit;
  readonly by: BroadcastMatch;
}

function stationOf(base: HeldBase, stations: readonly StationAudit[]): Match | null {
  const sending = stations.filter(({ positions }) => positions.listed.length > 0);
  const numbered = /^\d{1,4}$/u.test(base.id)
    ? sending.find(({ stationId }) => String(stationId) === base.id.replace(/^0+(?=\d)/u, ''))
    : undefined;
  if (numbered !== undefined) return { station: numbered, by: 'id' };
  const [only] = sending;
  if (only === undefined) return null;
  if (sending.length === 1) return { station: only, by: 'only-one' };
  const distance = (station: StationAudit): number =>
    smallestOf(station.positions.listed.map(({ arp }) => lengthOf(difference(arp, base.broadcastArp))));
  return { station: sending.reduce((best, own) => (distance(own) < distance(best) ? own : best)), by: 'nearest' };
}

/** Coordinates nearer than this, metres, may be of one place; a mistake that is larger puts a base somewhere else. */
const ELSEWHERE_M = 100;

/** Coordinates that were sent while the set-up held, but for those at the place of another base. */
function positionsOf(
  base: HeldBase,
  { station, by }: Match,
  bases: readonly HeldBase[],
  calendar: StreamCalendar,
): readonly SentPosition[] {
  const away = ({ broadcastArp }: HeldBase, { arp }: SentPosition): number => lengthOf(difference(arp, broadcastArp));
  return station.positions.listed.filter((position) => {
    if (!isInTime(position, base, calendar)) return false;
    const ownM = away(base, position);
    const isOfAnother = (other: HeldBase): boolean =>
      other.id !== base.id && isInTime(position, other, calendar) && away(other, position) + ELSEWHERE_M < ownM;
    return by === 'id' || !bases.some(isOfAnother);
  });
}

/** Whether a coordinate was sent while a set-up held; it was where the base has no times or the stream no date. */
function isInTime({ firstMs, lastMs }: SentPosition, base: HeldBase, calendar: StreamCalendar): boolean {
  const from = base.fromMs === null ? null : streamOfUtc(calendar, base.fromMs);
  const to = base.toMs === null ? null : streamOfUtc(calendar, base.toMs);
  return (from === null || lastMs === null || lastMs >= from) && (to === null || firstMs === null || firstMs <= to);
}

function notSent(base: HeldBase): BroadcastCheck {
  return { baseId: base.id, sent: null, verdict: 'review', reasons: ['broadcast-not-sent'], cause: null, line: null };
}

function hold(base: HeldBase, { station, by }: Match, position: SentPosition, toleranceM: number): BroadcastCheck {
  const arp = geocentricToLocal(base.frame, difference(position.arp, base.broadcastArp));
  const mark = markDifference(base, position);
  const isOff = largest(arp) > toleranceM;
  const heights = heightVerdict(base, position, toleranceM);
  const reasons: ProblemCode[] = [
    ...(isOff ? (['broadcast-differs'] as const) : []),
    ...(heights === 'within' ? [] : (['broadcast-antenna-height'] as const)),
  ];
  return {
    baseId: base.id,
    sent: {
      stationId: station.stationId,
      matchedBy: by,
      position,
      arp,
      mark,
      antennaHeightM: base.antennaHeightM,
    },
    verdict: gravestAnswer([isOff ? 'no' : 'within', heights]),
    reasons,
    cause: isOff ? causeOf(arp, base, position, toleranceM) : null,
    line: isOff ? sessionLine(position.arp) : null,
  };
}

/** A height of 0 is what a base sends that was told none: no contradiction, but the mark below is not the mark. */
function heightVerdict(base: HeldBase, { antennaHeightM: sent }: SentPosition, toleranceM: number): Answer {
  if (sent === null || base.antennaHeightM === null || Math.abs(sent - base.antennaHeightM) <= toleranceM)
    return 'within';
  return sent === 0 ? 'review' : 'no';
}

function markDifference(base: HeldBase, position: SentPosition): LocalVector | null {
  if (base.antennaHeightM === null || position.mark === null) return null;
  const down = localToGeocentric(base.frame, { eastM: 0, northM: 0, upM: -base.antennaHeightM });
  const { xM, yM, zM } = base.broadcastArp;
  const mark = { xM: xM + down.xM, yM: yM + down.yM, zM: zM + down.zM };
  return geocentricToLocal(base.frame, difference(position.mark, mark));
}

/** Whether the difference is a height of the antenna that one side left out or put on twice. */
function causeOf(
  { eastM, northM, upM }: LocalVector,
  base: HeldBase,
  position: SentPosition,
  toleranceM: number,
): string | null {
  if (Math.max(Math.abs(eastM), Math.abs(northM)) > toleranceM) return null;
  const heights = [base.antennaHeightM, position.antennaHeightM].filter((height) => height !== null && height > 0);
  for (const height of heights) {
    if (height === null) continue;
    if (Math.abs(upM + height) <= toleranceM)
      return `what was sent lies lower by the antenna height ${formatFixed(height, 4)} m: the coordinate of the mark was entered as that of the antenna`;
    if (Math.abs(upM - height) <= toleranceM)
      return `what was sent lies higher by the antenna height ${formatFixed(height, 4)} m: it was put on twice, or the session's coordinate is that of the mark`;
  }
  return null;
}

/** The coordinate as the session writes it, at the antenna reference point, where it was sent. */
export function sessionLine({ xM, yM, zM }: GeocentricPoint): string {
  return `broadcast = { x_m = ${formatFixed(xM, 4)}, y_m = ${formatFixed(yM, 4)}, z_m = ${formatFixed(zM, 4)}, at = "arp" }`;
}

function difference(one: GeocentricPoint, other: GeocentricPoint): GeocentricPoint {
  return { xM: one.xM - other.xM, yM: one.yM - other.yM, zM: one.zM - other.zM };
}

function lengthOf({ xM, yM, zM }: GeocentricPoint): number {
  return Math.sqrt(xM * xM + yM * yM + zM * zM);
}

function largest({ eastM, northM, upM }: LocalVector): number {
  return Math.max(Math.abs(eastM), Math.abs(northM), Math.abs(upM));
}
