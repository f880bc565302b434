import { geocentricToGeodetic, geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import type { CorrectionMessage, StationMessage } from '../../records/corrections/correction-message.js';
import type {
  Listed,
  SentNames,
  SentPosition,
  StationAudit,
  Said,
} from '../../records/corrections/correction-audit.js';
import { createConstellationCount } from './constellation-count.js';
import { createEpochSets } from './time/epoch-sets.js';
import { createEpochTimes } from './time/epoch-times.js';
import { createSpoken } from './spoken.js';
import type { ObservedTime } from './time/stream-clock.js';

type Names = Omit<SentNames, keyof Said>;
type Position = Pick<
  StationMessage,
  'xM' | 'yM' | 'zM' | 'antennaHeightM' | 'itrfYear' | 'isComputed' | 'quarterCycle'
>;

/** Lines of text that are kept. */
const MOST_TEXTS = 100;

/** Collects what one station sends. */
export interface StationRecord {
  /** A message of this station, with the time that the stream has, and the bytes of its frame. */
  readonly add: (message: CorrectionMessage, time: ObservedTime, frameBytes: number) => void;
  readonly leapSeconds: () => number | null;
  readonly result: (leapSeconds: number | null, ellipsoid: Ellipsoid) => StationAudit;
}

export function createStationRecord(stationId: number): StationRecord {
  const epochs = createEpochTimes();
  const sets = createEpochSets();
  const positions = createSpoken<Position>(joinedPosition);
  const names = createSpoken<Names>(joinedNames);
  const constellations = createConstellationCount();
  const texts: { atMs: number | null; text: string }[] = [];
  let textsLeftOut = 0;
  let biases: StationAudit['biases'] = null;
  let bytes = 0;
  let firstMs: number | null = null;
  let lastMs: number | null = null;

  return {
    add(message, time, frameBytes) {
      const atMs = time.ms;
      bytes += frameBytes;
      firstMs ??= atMs;
      lastMs = atMs ?? lastMs;
      switch (message.kind) {
        case 'station':
          positions.say(message, atMs);
          break;
        case 'names':
          names.say(message, atMs);
          break;
        case 'biases':
          biases = { isAligned: message.isAligned, biasesM: message.biasesM };
          break;
        case 'text':
          if (texts.length < MOST_TEXTS) texts.push({ atMs, text: message.text });
          else textsLeftOut += 1;
          break;
        case 'observations':
          sets.add(message);
          epochs.add(time);
          constellations.add(message);
          break;
        case 'announcement':
        case 'other':
        case 'short':
      }
    },
    leapSeconds: sets.leapSeconds,
    result: (leapSeconds, ellipsoid) => ({
      stationId,
      firstMs,
      lastMs,
      bytes,
      positions: allPlaced(positions.result(), ellipsoid),
      names: names.result(),
      epochs: epochs.result(),
      incompleteEpochs: sets.incomplete(),
      constellations: constellations.result(),
      biases,
      timeChecks: sets.timeChecks(leapSeconds),
      texts: { listed: texts, leftOut: textsLeftOut },
    }),
  };
}

/** 1005 between 1006 says nothing of the height, which then stays; a first 1006 behind 1005 adds it. */
function joinedPosition(before: Position, now: Position): Position | null {
  const isSame =
    before.xM === now.xM &&
    before.yM === now.yM &&
    before.zM === now.zM &&
    before.itrfYear === now.itrfYear &&
    before.isComputed === now.isComputed &&
    before.quarterCycle === now.quarterCycle;
  const antennaHeightM = joinedValue(before.antennaHeightM, now.antennaHeightM);
  return isSame && antennaHeightM !== undefined ? { ...now, antennaHeightM } : null;
}

/** 1007, 1008 and 1033 say more and less of the same; what one leaves out another said. */
function joinedNames(before: Names, now: Names): Names | null {
  const antennaSerial = joinedValue(before.antennaSerial, now.antennaSerial);
  const receiver = joinedValue(before.receiver, now.receiver);
  const firmware = joinedValue(before.firmware, now.firmware);
  const receiverSerial = joinedValue(before.receiverSerial, now.receiverSerial);
  const { antenna, setupId } = now;
  return before.antenna !== antenna ||
    before.setupId !== setupId ||
    antennaSerial === undefined ||
    receiver === undefined ||
    firmware === undefined ||
    receiverSerial === undefined
    ? null
    : { antenna, setupId, antennaSerial, receiver, firmware, receiverSerial };
}

/** What both say, or the one that says anything; undefined: they contradict. */
function joinedValue<T>(before: T | null, now: T | null): T | null | undefined {
  if (before === null || now === null) return now ?? before;
  return before === now ? now : undefined;
}

/** With latitude, longitude and height, and the mark: the height of the antenna is taken off once, along the normal of the ellipsoid. */
function placed(position: Position & Said, ellipsoid: Ellipsoid): SentPosition {
  const { xM, yM, zM, antennaHeightM, itrfYear, isComputed, quarterCycle, firstMs, lastMs, count } = position;
  const arp = { xM, yM, zM };
  const geodetic = geocentricToGeodetic(arp, ellipsoid);
  const markGeodetic =
    antennaHeightM === null ? null : { ...geodetic, ellipsoidalHeightM: geodetic.ellipsoidalHeightM - antennaHeightM };
  const mark = markGeodetic === null ? null : geodeticToGeocentric(markGeodetic, ellipsoid);
  const said = { firstMs, lastMs, count };
  return { arp, geodetic, antennaHeightM, mark, markGeodetic, itrfYear, isComputed, quarterCycle, ...said };
}

function allPlaced({ listed, leftOut }: Listed<Position & Said>, ellipsoid: Ellipsoid): Listed<SentPosition> {
  return { listed: listed.map((position) => placed(position, ellipsoid)), leftOut };
}
