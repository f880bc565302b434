import { basename, extname } from 'node:path';
import { rolledOverFrom } from '../../core/observation/week-rollover.js';
import type { KnownSpan } from '../../core/observation/week-rollover.js';
import type { Fix } from '../../records/points/fix.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { ReferencePoint } from '../../records/points/point.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { RejectedRow } from '../tables/columns/row-loop.js';
import type { FixBlock, FixInput } from '../tables/fixes/fixes-read.js';
import { createNmeaClock } from './nmea-clock.js';
import { LEAST_MINUTE_DECIMALS, nmeaPosition } from './nmea-epoch.js';
import { gatherTime } from './nmea-gather.js';
import { nmeaPieces } from './nmea-pieces.js';
import type { NmeaEpoch, NmeaTime } from './nmea-gather.js';
import { createNmeaNotes } from './nmea-notes.js';
import { createNmeaScanner } from './nmea-scan.js';
import type { FoundSentence } from './nmea-scan.js';
import { isFault, nmeaRmcDate, nmeaSentence, nmeaTimeOfDay, nmeaZdaDate } from './nmea-sentence.js';
import type { NmeaFault, NmeaSentence } from './nmea-sentence.js';
import { createStationJoin } from './nmea-station.js';
import { createOccupationFinder } from '../tables/points/occupation-finder.js';
import type { OccupationInterval } from '../tables/fixes/occupations-read.js';
import type { Source } from '../bytes/source.js';

export interface NmeaReadOptions {
  /** Index of the file in the run's list of inputs. */
  readonly sourceIndex: number;
  /** Names by time, sorted; null: every epoch is of one point named after the file. */
  readonly occupations: readonly OccupationInterval[] | null;
  /** Told of each occupation that has an epoch. */
  readonly onOccupation?: (interval: OccupationInterval) => void;
  /** What the positions belong to; null leaves it to the session. A log's positions are the antenna's: `apc`. */
  readonly referencePoint: ReferencePoint | null;
  /** Positions of this talker only, two letters; null: of any. */
  readonly talker: string | null;
  /** Ids of the session's bases, which stations are joined with. */
  readonly baseIds: readonly string[];
  /** When the work was done, as far as the settings say. */
  readonly spans: readonly KnownSpan[];
}

const NO_CELLS: readonly string[] = Object.freeze([]);

/**
 * Reads an NMEA 0183 log as fixes, one for each time with a GGA position.
 * GST and RMC join by their time, ZDA likewise; GSA, which carries no time, joins the epoch it follows. Times of day get
 * their date from RMC or ZDA, across midnight. Sentences of other kinds are left out; what is no sentence is passed over.
 * Problems: nmea-syntax, nmea-checksum, nmea-missing-field, nmea-precision, nmea-two-positions with the line rejected;
 * nmea-no-sentence and nmea-no-date as a failure at the end; as warnings, once, nmea-precision-low, nmea-station-unknown
 * and nmea-week-rollover; as notes, counts of what is left out.
 * Source: NMEA 0183 (from memory); the method of dates is our own.
 */
export function readNmea(source: Source, options: NmeaReadOptions): FixInput {
  // No occupations are named.
  const hasPoles = (options.occupations ?? []).some(({ poleLengthM }) => poleLengthM !== null);
  return {
    passThroughNames: [],
    has: (column) => hasPoles && column === 'pole_length_m',
    headerRaw: null,
    bytes: null,
    blocks: () => nmeaBlocks(source, options),
  };
}

async function* nmeaBlocks(source: Source, options: NmeaReadOptions): AsyncGenerator<Outcome<FixBlock>> {
  const clock = createNmeaClock<NmeaEpoch>();
  const scanner = createNmeaScanner();
  const stations = createStationJoin(options.baseIds);
  // No occupations are named.
  const finder = createOccupationFinder(options.occupations ?? []);
  const notes = createNmeaNotes(source.name);
  const fileName = basename(source.name, extname(source.name));
  let time: NmeaTime | null = null;
  let fixes: Fix[] = [];
  let rejected: RejectedRow[] = [];
  let warnings: Problem[] = [];
  let rawByLine = new Map<number, string>();
  let isLowPrecisionSaid = false;

  function reject(line: number, raw: string, fault: NmeaFault): void {
    const { code, message, hint } = fault;
    const problem = errorProblem(code, {
      message,
      where: { source: source.name, line },
      ...(hint !== undefined && { hint }),
    });
    rejected.push({ line, raw, problems: [problem] });
  }

  /** What is gathered of a sentence's time, or a new gathering in its place. */
  function at(timeOfDayMs: number): NmeaTime {
    if (time?.timeOfDayMs === timeOfDayMs) return time;
    complete();
    time = gatherTime(timeOfDayMs);
    return time;
  }

  function complete(): void {
    const epoch = time?.result() ?? null;
    if (epoch === 'without') notes.count('without-position');
    else if (epoch !== null && time !== null) clock.add(time.timeOfDayMs, epoch);
    time = null;
    for (const dated of clock.take()) emit(dated.item, dated.ms);
  }

  function emit(item: NmeaEpoch, epochMs: number): void {
    const { position } = item;
    const probableMs = rolledOverFrom(epochMs, options.spans);
    if (probableMs !== null) notes.rolledOver(item.line, epochMs, probableMs);
    const occupation = options.occupations === null ? null : finder.at(epochMs);
    if (options.occupations !== null && occupation === null) {
      notes.count('outside-occupations');
      return;
    }
    if (occupation !== null) options.onOccupation?.(occupation);
    rawByLine.set(item.line, item.raw);
    fixes.push({
      pointId: occupation?.pointId ?? fileName,
      ...(options.occupations === null && { namedAfterLog: true }),
      ...(position.stationId !== null && { stationId: position.stationId }),
      separationM: position.separationM,
      code: '',
      epochMs,
      geodetic: position.geodetic,
      geocentric: null,
      referencePoint: options.referencePoint,
      solution: position.solution,
      correctionAgeS: position.correctionAgeS,
      satellitesUsed: position.satellitesUsed,
      pdop: item.pdop,
      hdop: position.hdop,
      vdop: item.vdop,
      sigmaEastM: item.sigmas?.sigmaEastM ?? null,
      sigmaNorthM: item.sigmas?.sigmaNorthM ?? null,
      sigmaUpM: item.sigmas?.sigmaUpM ?? null,
      correlationEn: null,
      baseId: position.stationId === null ? null : stations.baseOf(position.stationId),
      poleLengthM: occupation?.poleLengthM ?? null,
      tiltDeg: null,
      tiltAzimuthDeg: null,
      epochCount: 1,
      note: '',
      passThrough: NO_CELLS,
      place: { sourceIndex: options.sourceIndex, line: item.line },
    });
  }

  function readSentence(sentence: NmeaSentence, line: number, raw: string): void {
    switch (sentence.kind) {
      case 'GSA':
        time?.addDops(sentence);
        return;
      case 'GGA':
        if (options.talker !== null && options.talker !== sentence.talker) {
          notes.count('other-talker');
          return;
        }
        break;
      case 'GST':
      case 'RMC':
      case 'ZDA':
        break;
      default:
        return;
    }
    const timeOfDayMs = nmeaTimeOfDay(sentence.field(1));
    if (timeOfDayMs === null) {
      // A receiver without a position yet leaves the time empty.
      if (sentence.field(1) !== '')
        reject(line, raw, { code: 'nmea-syntax', message: `"${sentence.field(1)}" is no time of the form hhmmss.ss` });
      else if (sentence.kind === 'GGA') notes.count('without-position');
      return;
    }
    const current = at(timeOfDayMs);
    if (sentence.kind === 'GST') current.addSigmas(sentence);
    else if (sentence.kind === 'RMC')
      clock.setDate(timeOfDayMs, sentence.field(2) === 'A' ? nmeaRmcDate(sentence.field(9)) : null);
    else if (sentence.kind === 'ZDA') clock.setDate(timeOfDayMs, nmeaZdaDate(sentence));
    else readPosition(sentence, current, line, raw);
  }

  function readPosition(sentence: NmeaSentence, current: NmeaTime, line: number, raw: string): void {
    const position = nmeaPosition(sentence);
    if (position === 'none') {
      current.addNone();
      return;
    }
    if (isFault(position)) {
      reject(line, raw, position);
      return;
    }
    if (position.minuteDecimals === LEAST_MINUTE_DECIMALS && !isLowPrecisionSaid) {
      isLowPrecisionSaid = true;
      const message = `positions have ${String(LEAST_MINUTE_DECIMALS)} decimals of a minute, about 2 mm`;
      warnings.push(
        warningProblem('nmea-precision-low', {
          message,
          where: { source: source.name, line },
          hint: 'log with 7 decimals for survey work',
        }),
      );
    }
    const added = current.addPosition(position, sentence, line, raw);
    if (added === 'first') return;
    if (added === 'same') {
      notes.count('repeated');
      return;
    }
    const { differsFrom, isNew } = added;
    if (isNew) reject(differsFrom.line, differsFrom.raw, twoPositions(differsFrom.talker, sentence.talker, line));
    reject(line, raw, twoPositions(sentence.talker, differsFrom.talker, differsFrom.line));
  }

  function takeBlock(): Outcome<FixBlock> {
    const raws = rawByLine;
    rawByLine = new Map();
    const block: FixBlock = {
      fixes,
      rejected,
      warnings,
      // A fix of an earlier block has given its text with that.
      rawOf: ({ place }) => (place.sourceIndex === options.sourceIndex ? (raws.get(place.line) ?? '') : ''),
    };
    fixes = [];
    rejected = [];
    warnings = [];
    return success(block);
  }

  function read(found: readonly FoundSentence[]): void {
    for (const { raw, line } of found) {
      const sentence = nmeaSentence(raw);
      if (isFault(sentence)) reject(line, raw, sentence);
      else readSentence(sentence, line, raw);
    }
  }

  for await (const chunk of nmeaPieces(source)) {
    if (!chunk.ok) {
      yield chunk;
      return;
    }
    read(scanner.push(chunk.value.toString('latin1')));
    yield takeBlock();
  }
  read(scanner.end());
  complete();
  const { sentences, bytes } = scanner.rest();
  if (sentences === 0 && bytes > 0) {
    yield failure(
      errorProblem('nmea-no-sentence', {
        message: 'holds no NMEA 0183 sentence',
        where: { source: source.name },
        hint: 'check what kind of file it is; --input says how it is read',
      }),
    );
    return;
  }
  if (clock.waiting() > 0) {
    const message = `${String(clock.waiting())} positions have a time of day and the log never gives a date`;
    yield failure(
      errorProblem('nmea-no-date', { message, where: { source: source.name }, hint: 'log RMC or ZDA too' }),
    );
    return;
  }
  const unknown = stations.unknown(source.name);
  warnings = [...warnings, ...(unknown === null ? [] : [unknown]), ...notes.problems(scanner.rest())];
  yield takeBlock();
}

/** Two positions of one time: which of them was meant only the surveyor knows. */
function twoPositions(own: string, other: string, line: number): NmeaFault {
  const isOneTalker = own === other;
  return {
    code: 'nmea-two-positions',
    message: `line ${String(line)} has another position of this time${isOneTalker ? '' : `: ${own} here and ${other} there`}`,
    hint: isOneTalker
      ? 'keep the positions of one receiver in a log'
      : 'name the talker whose positions are to be read, such as --talker GN: GN is the solution of several systems together, GP that of GPS alone',
  };
}
