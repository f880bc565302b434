import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import type { CorrectionMessage } from '../../records/corrections/correction-message.js';
import type { CorrectionAudit, StationAudit, StreamFile } from '../../records/corrections/correction-audit.js';
import type { FrameCounts } from '../../records/corrections/frame-counts.js';
import { ABOUT_CONTENT, createMessageTally } from './message-tally.js';
import { createEpochTimes } from './time/epoch-times.js';
import { createStationRecord } from './station-record.js';
import type { StationRecord } from './station-record.js';
import { createStreamClock } from './time/stream-clock.js';
import type { ObservedTime } from './time/stream-clock.js';

/** Collects what recorded streams hold; memory grows with stations and kinds of messages, not with how many there are. */
export interface CorrectionCount {
  /** A file begins. */
  readonly begin: () => void;
  readonly add: (message: CorrectionMessage, contentBytes: number) => void;
  /** It ends. */
  readonly end: (name: string, frames: FrameCounts) => void;
  /**
   * Given: the date of the first epoch, UTC, milliseconds since 1970 at its midnight, where it was asked for; the ellipsoid that latitudes are
   * given on.
   */
  readonly result: (dateMs: number | null, ellipsoid: Ellipsoid) => CorrectionAudit;
}

export function createCorrectionCount(): CorrectionCount {
  const clock = createStreamClock();
  const stations = new Map<number, StationRecord>();
  const messages = createMessageTally();
  const files: StreamFile[] = [];
  let fileTimes = createEpochTimes();
  let shortMessages = 0;
  let bytes = 0;

  const stationOf = (id: number): StationRecord => {
    const known = stations.get(id) ?? createStationRecord(id);
    stations.set(id, known);
    return known;
  };
  /** The time of a message, after what it says of time is taken in. */
  const timeOf = (message: CorrectionMessage): ObservedTime => {
    if (message.kind === 'announcement' || message.kind === 'text')
      clock.dated(
        message.modifiedJulianDay,
        message.secondOfDay,
        message.kind === 'announcement' ? message.leapSeconds : null,
      );
    if (message.kind !== 'observations') return { ms: clock.now(), by: 'shown' };
    const time = clock.observed(message);
    fileTimes.add(time);
    return time;
  };

  return {
    begin() {
      clock.begin();
      fileTimes = createEpochTimes();
    },
    add(message, contentBytes) {
      const frameBytes = contentBytes + ABOUT_CONTENT;
      bytes += frameBytes;
      if (message.kind === 'short') {
        // An empty content fills up, and is no message.
        if (contentBytes > 0) shortMessages += 1;
        return;
      }
      const time = timeOf(message);
      messages.add(message, time.ms, contentBytes);
      if (message.kind !== 'other') stationOf(message.stationId).add(message, time, frameBytes);
    },
    end(name, frames) {
      const { firstMs, lastMs } = fileTimes.result();
      files.push({ name, frames, firstMs, lastMs });
    },
    result: (dateMs, ellipsoid) => {
      const found = [...stations.values()];
      const reconciled = found.map((station) => station.leapSeconds()).find((leap) => leap !== null) ?? null;
      const calendar = clock.calendar(dateMs, reconciled);
      const leapSeconds = calendar.leapFrom === 'assumed' ? null : calendar.leapSeconds;
      const audits = found.map((station) => station.result(leapSeconds, ellipsoid));
      return { ...summed(files, audits), shortMessages, calendar, messages: messages.result(), bytes };
    },
  };
}

/** What is summed over files and stations. */
function summed(
  files: readonly StreamFile[],
  stations: readonly StationAudit[],
): Pick<CorrectionAudit, 'files' | 'frames' | 'stations' | 'seconds' | 'epochs'> {
  // One epoch alone has no length that is known.
  const stepS = stations.map(({ epochs }) => epochs.usualIntervalS).find((step) => step !== null) ?? 0;
  return {
    files,
    frames: together(files.map(({ frames }) => frames)),
    stations: [...stations].sort((one, other) => one.stationId - other.stationId),
    seconds: secondsOf(files, stepS),
    epochs: stations.reduce((sum, { epochs }) => sum + epochs.count, 0),
  };
}

/** From the first epoch of each file to the end of its last one. */
function secondsOf(files: readonly StreamFile[], stepS: number): number | null {
  const spans = files.flatMap(({ firstMs, lastMs }) =>
    firstMs === null || lastMs === null || lastMs < firstMs ? [] : [(lastMs - firstMs) / 1000 + stepS],
  );
  const total = spans.reduce((sum, span) => sum + span, 0);
  return total > 0 ? total : null;
}

function together(all: readonly FrameCounts[]): FrameCounts {
  const sum = (of: (frames: FrameCounts) => number): number => all.reduce((total, frames) => total + of(frames), 0);
  return {
    bytes: sum(({ bytes }) => bytes),
    good: sum(({ good }) => good),
    failed: sum(({ failed }) => failed),
    damaged: sum(({ damaged }) => damaged),
    bytesOutside: sum(({ bytesOutside }) => bytesOutside),
    repeated: sum(({ repeated }) => repeated),
    lineFeeds: sum(({ lineFeeds }) => lineFeeds),
    afterReturns: sum(({ afterReturns }) => afterReturns),
    isCut: all.some(({ isCut }) => isCut),
  };
}
