import { basename, extname } from 'node:path';
import { instantMs } from '../core/numeric/parse-utc.js';
import type { Fix } from '../records/fix.js';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { ReferencePoint } from '../records/point.js';
import { errorProblem, warningProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { FixBlock, FixInput, RejectedRow } from './fixes-read.js';
import { readLines } from './line-read.js';
import { createNmeaClock } from './nmea-clock.js';
import { LEAST_MINUTE_DECIMALS, nmeaPosition, nmeaSigmas, notNegative } from './nmea-epoch.js';
import type { NmeaPosition, NmeaSigmas } from './nmea-epoch.js';
import { digits, isFault, nmeaRmcDate, nmeaSentence, nmeaTimeOfDay } from './nmea-sentence.js';
import type { NmeaFault, NmeaSentence } from './nmea-sentence.js';
import type { OccupationInterval } from './occupations-read.js';
import type { Source } from './source.js';

export interface NmeaReadOptions {
  /** Index of the file in the run's list of inputs. */
  readonly sourceIndex: number;
  /** Names by time, sorted; null: every epoch is of one point named after the file. */
  readonly occupations: readonly OccupationInterval[] | null;
  /** What the positions belong to; null leaves it to the session. A log's positions are the antenna's: `apc`. */
  readonly referencePoint: ReferencePoint | null;
}

/** Sentences of one time of day, gathered until a sentence of another time arrives. */
interface Epoch {
  readonly timeOfDayMs: number;
  position: NmeaPosition | null;
  line: number;
  raw: string;
  sigmas: NmeaSigmas | null;
  pdop: number | null;
  vdop: number | null;
}

const NO_CELLS: readonly string[] = Object.freeze([]);

/**
 * Reads an NMEA 0183 log as fixes, one for each GGA position.
 * GST and RMC join by their time, ZDA likewise; GSA, which carries no time, joins the epoch it follows. Times of day get
 * their date from RMC or ZDA, across midnight. Lines of other kinds are left out.
 * Problems: nmea-syntax, nmea-checksum, nmea-missing-field, nmea-precision with the line rejected; nmea-no-date as a
 * failure at the end; as warnings, once, nmea-precision-low; as notes, counts of epochs left out.
 * Source: NMEA 0183 (from memory); the method of dates is our own.
 */
export function readNmea(source: Source, options: NmeaReadOptions): FixInput {
  const hasPoles = (options.occupations ?? []).some(({ poleLengthM }) => poleLengthM !== null);
  return { passThroughNames: [], has: (column) => hasPoles && column === 'pole_length_m', headerRaw: null, bytes: null, blocks: () => nmeaBlocks(source, options) };
}

async function* nmeaBlocks(source: Source, options: NmeaReadOptions): AsyncGenerator<Outcome<FixBlock>> {
  const clock = createNmeaClock<Epoch>();
  let epoch: Epoch | null = null;
  let fixes: Fix[] = [];
  let rejected: RejectedRow[] = [];
  let warnings: Problem[] = [];
  let rawByLine = new Map<number, string>();
  let isLowPrecisionSaid = false;
  let withoutPosition = 0;
  let outsideOccupations = 0;
  let nextOccupation = 0;
  const fileName = basename(source.name, extname(source.name));

  function reject(line: number, raw: string, fault: NmeaFault): void {
    const { code, message, hint } = fault;
    const problem = errorProblem(code, { message, where: { source: source.name, line }, ...(hint !== undefined && { hint }) });
    rejected.push({ line, raw, problems: [problem] });
  }

  /** The epoch of a sentence's time: the one being gathered, or a new one in its place. */
  function epochAt(timeOfDayMs: number): Epoch {
    if (epoch?.timeOfDayMs === timeOfDayMs) return epoch;
    complete();
    epoch = { timeOfDayMs, position: null, line: 0, raw: '', sigmas: null, pdop: null, vdop: null };
    return epoch;
  }

  function complete(): void {
    if (epoch?.position !== null && epoch !== null) clock.add(epoch.timeOfDayMs, epoch);
    epoch = null;
    for (const dated of clock.take()) emit(dated.item, dated.ms);
  }

  function emit(item: Epoch, epochMs: number): void {
    const { position } = item;
    if (position === null) return;
    const occupation = options.occupations === null ? null : occupationAt(options.occupations, epochMs);
    if (options.occupations !== null && occupation === null) {
      outsideOccupations += 1;
      return;
    }
    rawByLine.set(item.line, item.raw);
    fixes.push({
      pointId: occupation?.pointId ?? fileName,
      ...(options.occupations === null && { namedAfterLog: true }),
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
      baseId: null,
      poleLengthM: occupation?.poleLengthM ?? null,
      tiltDeg: null,
      tiltAzimuthDeg: null,
      epochCount: 1,
      note: '',
      passThrough: NO_CELLS,
      place: { sourceIndex: options.sourceIndex, line: item.line },
    });
  }

  /** Epochs come in order of time, nearly always: the search starts where it last ended. */
  function occupationAt(list: readonly OccupationInterval[], ms: number): OccupationInterval | null {
    if (ms < (list[nextOccupation]?.fromMs ?? Infinity)) nextOccupation = 0;
    while (nextOccupation < list.length && (list[nextOccupation]?.toMs ?? 0) < ms) nextOccupation += 1;
    const found = list[nextOccupation];
    return found !== undefined && found.fromMs <= ms ? found : null;
  }

  function readSentence(sentence: NmeaSentence, line: number, raw: string): void {
    switch (sentence.kind) {
      case 'GSA':
        if (epoch === null) return;
        epoch.pdop = notNegative(sentence.field(15)) ?? epoch.pdop;
        epoch.vdop = notNegative(sentence.field(17)) ?? epoch.vdop;
        return;
      case 'GGA':
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
      if (sentence.field(1) !== '') reject(line, raw, { code: 'nmea-syntax', message: `"${sentence.field(1)}" is no time of the form hhmmss.ss` });
      else if (sentence.kind === 'GGA') withoutPosition += 1;
      return;
    }
    const current = epochAt(timeOfDayMs);
    if (sentence.kind === 'GST') current.sigmas = nmeaSigmas(sentence);
    else if (sentence.kind === 'RMC') clock.setDate(timeOfDayMs, sentence.field(2) === 'A' ? nmeaRmcDate(sentence.field(9)) : null);
    else if (sentence.kind === 'ZDA') clock.setDate(timeOfDayMs, zdaDate(sentence));
    else readPosition(sentence, current, line, raw);
  }

  function readPosition(sentence: NmeaSentence, current: Epoch, line: number, raw: string): void {
    const position = nmeaPosition(sentence);
    if (position === 'none') {
      withoutPosition += 1;
      return;
    }
    if (isFault(position)) {
      reject(line, raw, position);
      return;
    }
    if (position.minuteDecimals === LEAST_MINUTE_DECIMALS && !isLowPrecisionSaid) {
      isLowPrecisionSaid = true;
      const message = `positions have ${String(LEAST_MINUTE_DECIMALS)} decimals of a minute, about 2 mm`;
      warnings.push(warningProblem('nmea-precision-low', { message, where: { source: source.name, line }, hint: 'log with 7 decimals for survey work' }));
    }
    current.position = position;
    current.line = line;
    current.raw = raw;
  }

  function takeBlock(): Outcome<FixBlock> {
    const raws = rawByLine;
    rawByLine = new Map();
    const block: FixBlock = { fixes, rejected, warnings, rawOf: ({ place }) => (place.sourceIndex === options.sourceIndex ? (raws.get(place.line) ?? '') : '') };
    fixes = [];
    rejected = [];
    warnings = [];
    return success(block);
  }

  for await (const block of readLines(source.chunks(), source.name)) {
    if (!block.ok) {
      yield block;
      return;
    }
    block.value.lines.forEach((text, index) => {
      if (text.trim() === '') return;
      const line = block.value.firstLine + index;
      const sentence = nmeaSentence(text);
      if (isFault(sentence)) reject(line, text, sentence);
      else readSentence(sentence, line, text);
    });
    yield takeBlock();
  }
  complete();
  if (clock.waiting() > 0) {
    const message = `${String(clock.waiting())} positions have a time of day and the log never gives a date`;
    yield failure(errorProblem('nmea-no-date', { message, where: { source: source.name }, hint: 'log RMC or ZDA too' }));
    return;
  }
  addNote(withoutPosition, 'epochs have no satellite position (GGA quality 0, or 6 and above) and are left out');
  addNote(outsideOccupations, 'epochs lie outside every occupation named and are left out');
  yield takeBlock();

  function addNote(count: number, words: string): void {
    if (count === 0) return;
    warnings.push({ code: 'nmea-epochs-left-out', severity: 'note', message: `${String(count)} ${words}`, where: { source: source.name } });
  }
}

function zdaDate(sentence: NmeaSentence): number | null {
  const [day, month, year] = [sentence.field(2), sentence.field(3), sentence.field(4)];
  if (!/^\d{2}$/.test(day) || !/^\d{2}$/.test(month) || !/^\d{4}$/.test(year)) return null;
  return instantMs(digits(year), digits(month), digits(day), 0, 0, 0);
}
