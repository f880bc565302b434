import { utcOfStream } from '../../../../core/corrections/stream-time-text.js';
import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import type { BroadcastCheck } from '../../../../records/corrections/broadcast-check.js';
import type {
  CorrectionAudit,
  SentConstellation,
  SentPosition,
  StationAudit,
  StreamCalendar,
} from '../../../../records/corrections/correction-audit.js';
import type { GeocentricPoint, LocalVector } from '../../../../records/points/point.js';
import { entryAt } from '../../../../records/present.js';
import { paddingOf } from '../../../../tasks/corrections/stream-cost.js';
import type { StreamCost } from '../../../../records/corrections/stream-cost.js';
import { gridPairOf } from './position-columns.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';

type Members = Readonly<Record<string, unknown>>;

/** What a JSON document says beside the messages. */
export function streamWhole(
  audit: CorrectionAudit,
  checks: readonly BroadcastCheck[],
  grid: GridSystem | null,
): Members {
  const { calendar } = audit;
  return {
    stations: audit.stations.map((station) => stationMembers(station, calendar, grid)),
    broadcasts: checks.map((check) => checkMembers(check, calendar)),
    frames: framesMembers(audit),
    files: audit.files.map(({ name, frames, firstMs, lastMs }) => ({
      name,
      bytes: frames.bytes,
      good: frames.good,
      failed: frames.failed,
      damaged: frames.damaged,
      bytes_outside: frames.bytesOutside,
      first: timeText(calendar, firstMs),
      last: timeText(calendar, lastMs),
    })),
    time: {
      is_dated: calendar.zeroMs !== null,
      date_from: calendar.dateFrom,
      leap_seconds: calendar.leapSeconds,
      leap_seconds_from: calendar.leapFrom,
    },
  };
}

function framesMembers({ frames, shortMessages }: CorrectionAudit): Members {
  return {
    good: frames.good,
    failed: frames.failed,
    damaged: frames.damaged,
    short: shortMessages,
    bytes: frames.bytes,
    bytes_outside: frames.bytesOutside,
    is_cut: frames.isCut,
  };
}

/** Bytes of an hour and of a day. */
export function costMembers(audit: CorrectionAudit, cost: StreamCost | null): Members {
  const padding = paddingOf(audit);
  return {
    frame_bytes: audit.bytes,
    padding_bytes: padding,
    seconds: rounded(audit.seconds, 3),
    bytes_per_s: rounded(cost?.bytesPerS ?? null, 3),
    bytes_per_hour: rounded(cost?.bytesAnHour ?? null, 0),
    transport_bytes_per_hour: rounded(cost?.transportBytesAnHour ?? null, 0),
    day_hours: cost?.hours ?? null,
    day_bytes: rounded(cost?.dayBytes ?? null, 0),
    day_transport_bytes: rounded(cost?.dayTransportBytes ?? null, 0),
  };
}

/** The station with the coordinate that it sent last, and every change on the way to it. */
function stationMembers(station: StationAudit, calendar: StreamCalendar, grid: GridSystem | null): Members {
  const { positions, names, biases } = station;
  const last = positions.listed.at(-1) ?? null;
  const time = (ms: number | null): string | null => timeText(calendar, ms);
  return {
    station_id: station.stationId,
    ...geocentric('', last?.arp ?? null),
    antenna_height_m: last?.antennaHeightM ?? null,
    ...geocentric('mark_', last?.mark ?? null),
    first: time(station.firstMs),
    last: time(station.lastMs),
    first_week_s: weekSeconds(station.firstMs),
    last_week_s: weekSeconds(station.lastMs),
    bytes: station.bytes,
    positions: positions.listed.map((position) => positionMembers(position, calendar, grid)),
    changes: positions.listed
      .slice(1)
      .map((now, index) => changeMembers(entryAt(positions.listed, index), now, calendar)),
    changes_left_out: positions.leftOut,
    antennas: names.listed.map((sent) => ({
      antenna: sent.antenna,
      setup_id: sent.setupId,
      antenna_serial: sent.antennaSerial,
      receiver: sent.receiver,
      firmware: sent.firmware,
      receiver_serial: sent.receiverSerial,
      first: time(sent.firstMs),
      last: time(sent.lastMs),
    })),
    epochs: epochMembers(station, calendar),
    constellations: station.constellations.map(constellationMembers),
    glonass_biases:
      biases === null
        ? null
        : {
            aligned: biases.isAligned,
            biases_m: Object.fromEntries(biases.biasesM.map(({ signal, biasM }) => [signal, rounded(biasM, 2)])),
          },
    times: station.timeChecks.map((check) => ({
      constellation: check.constellation,
      against: check.against,
      compared: check.compared,
      disagreeing: check.disagreeing,
      largest_ms: check.largestMs,
    })),
    texts: station.texts.listed.map(({ atMs, text }) => ({ at: time(atMs), text })),
  };
}

function epochMembers({ epochs, incompleteEpochs }: StationAudit, calendar: StreamCalendar): Members {
  return {
    count: epochs.count,
    incomplete: incompleteEpochs,
    mean_interval_s: rounded(epochs.meanIntervalS, 3),
    usual_interval_s: epochs.usualIntervalS,
    longest_gap_s: epochs.longestGapS,
    steps_back: epochs.stepsBack,
    gaps: epochs.gaps.listed.map(({ fromMs, toMs }) => ({
      from: timeText(calendar, fromMs),
      to: timeText(calendar, toMs),
      from_week_s: weekSeconds(fromMs),
      seconds: (toMs - fromMs) / 1000,
    })),
    gaps_left_out: epochs.gaps.leftOut,
  };
}

function constellationMembers(own: SentConstellation): Members {
  return {
    constellation: own.constellation,
    numbers: own.messages,
    signals: own.signals,
    mean_satellites: rounded(own.meanSatellites, 2),
    most_satellites: own.mostSatellites,
  };
}

function positionMembers(position: SentPosition, calendar: StreamCalendar, grid: GridSystem | null): Members {
  const pair = gridPairOf(grid, position);
  return {
    ...geocentric('', position.arp),
    antenna_height_m: position.antennaHeightM,
    ...geocentric('mark_', position.mark),
    latitude_deg: rounded(position.geodetic.latitudeDeg, 10),
    longitude_deg: rounded(position.geodetic.longitudeDeg, 10),
    ellipsoidal_height_m: rounded(position.geodetic.ellipsoidalHeightM, 5),
    mark_ellipsoidal_height_m: rounded(position.markGeodetic?.ellipsoidalHeightM ?? null, 5),
    ...(grid === null
      ? {}
      : Object.fromEntries(grid.axes.map(({ columnName }, index) => [columnName, rounded(pair?.[index] ?? null, 5)]))),
    itrf_year: position.itrfYear === 0 ? null : position.itrfYear,
    computed: position.isComputed,
    quarter_cycle: position.quarterCycle,
    count: position.count,
    first: timeText(calendar, position.firstMs),
    last: timeText(calendar, position.lastMs),
  };
}

function changeMembers(before: SentPosition, now: SentPosition, calendar: StreamCalendar): Members {
  return {
    at: timeText(calendar, now.firstMs),
    at_week_s: weekSeconds(now.firstMs),
    from: { ...geocentric('', before.arp), antenna_height_m: before.antennaHeightM },
    to: { ...geocentric('', now.arp), antenna_height_m: now.antennaHeightM },
  };
}

function checkMembers(
  { baseId, sent, verdict, reasons, cause, line }: BroadcastCheck,
  calendar: StreamCalendar,
): Members {
  return {
    base_id: baseId,
    station_id: sent?.stationId ?? null,
    matched_by: sent?.matchedBy ?? null,
    first: sent === null ? null : timeText(calendar, sent.position.firstMs),
    last: sent === null ? null : timeText(calendar, sent.position.lastMs),
    ...local('arp', sent?.arp ?? null),
    ...local('mark', sent?.mark ?? null),
    antenna_height_sent_m: sent?.position.antennaHeightM ?? null,
    antenna_height_session_m: rounded(sent?.antennaHeightM ?? null, 5),
    verdict,
    reasons,
    cause,
    session_line: line,
  };
}

function geocentric(before: string, place: GeocentricPoint | null): Members {
  return {
    [`${before}x_m`]: rounded(place?.xM ?? null, 5),
    [`${before}y_m`]: rounded(place?.yM ?? null, 5),
    [`${before}z_m`]: rounded(place?.zM ?? null, 5),
  };
}

function local(at: string, vector: LocalVector | null): Members {
  return {
    [`${at}_difference_east_m`]: rounded(vector?.eastM ?? null, 5),
    [`${at}_difference_north_m`]: rounded(vector?.northM ?? null, 5),
    [`${at}_difference_up_m`]: rounded(vector?.upM ?? null, 5),
  };
}

function timeText(calendar: StreamCalendar, ms: number | null): string | null {
  const utcMs = ms === null ? null : utcOfStream(calendar, ms);
  return utcMs === null ? null : formatUtc(utcMs);
}

function weekSeconds(ms: number | null): number | null {
  return ms === null ? null : ms / 1000;
}

/** To so many decimals, and no negative zero: what lies below differs between engines. */
function rounded(value: number | null, decimals: number): number | null {
  return value === null ? null : Math.round(value * 10 ** decimals) / 10 ** decimals + 0;
}
