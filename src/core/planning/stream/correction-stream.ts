import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Caution } from '../caution.js';
import { msmMessages } from './msm-messages.js';
import type { MsmKind, MsmMessage } from './msm-messages.js';

/** Satellites in view and signals tracked on each, for one constellation. */
export interface StreamConstellation {
  readonly name: string;
  readonly satellites: number;
  readonly signals: number;
}

/** A message sent now and then beside the observations. */
export interface CompanionMessage {
  /** RTCM message number, for example 1006. */
  readonly number: number;
  /** Whole frame: header, content, check. */
  readonly frameBytes: number;
  readonly intervalS: number;
}

export interface StreamSettings {
  readonly kind: MsmKind;
  readonly constellations: readonly StreamConstellation[];
  /** Observation epochs a second. */
  readonly rateHz: number;
  readonly companions: readonly CompanionMessage[];
  /** Bytes that the network adds to each epoch's packet. */
  readonly transportBytesPerEpoch: number;
  readonly hours: number;
  readonly rovers: number;
  /** Longest planned baseline, metres; null: not known. */
  readonly longestBaselineM: number | null;
}

/** What a correction stream costs. MB is 10⁶ bytes, kbit 10³ bits. */
export interface CorrectionStream {
  readonly messages: readonly (MsmMessage & { readonly constellation: string })[];
  readonly observationBytesPerEpoch: number;
  readonly observationBytesPerS: number;
  readonly companionBytesPerS: number;
  readonly transportBytesPerS: number;
  readonly totalBytesPerS: number;
  /** Observations alone, for comparison with tables that leave the rest out. */
  readonly observationKbitPerS: number;
  readonly totalKbitPerS: number;
  readonly baseUplinkMb: number;
  readonly roverDownlinkMb: number;
  /** Uplink and every rover's downlink: each is billed. */
  readonly billedMb: number;
  readonly cautions: readonly Caution[];
}

/** 1006 (base and antenna height), 1033 (receiver and antenna names of 60 characters in all) and 1230 (four biases), every 10 s. */
export const USUAL_COMPANIONS: readonly CompanionMessage[] = [
  { number: 1006, frameBytes: 27, intervalS: 10 },
  { number: 1033, frameBytes: 75, intervalS: 10 },
  { number: 1230, frameBytes: 18, intervalS: 10 },
];

/** Network and transport headers of one packet (20 and 32 bytes); from memory. */
export const USUAL_TRANSPORT_BYTES = 52;

/** From this length on all frequencies are needed. Common practice, no published source. */
const LONG_BASELINE_M = 20_000;

/**
 * Data rate and amount of an RTCM 3 correction stream.
 *
 * Given: see `StreamSettings`. Returned: see `CorrectionStream`. Problems: a rate, interval, hours or
 * count that is not possible (config-invalid-value). The rovers' own position reports are left out; they are small.
 * Reference: RTCM-10403 as described on docs/methods/correction-stream.md; sizes from memory, one
 * of them confirmed.
 *
 * @example
 * // 169 + 10·2 + 10·18 + 10·2·48 bits, and 6 bytes about them; field widths from memory.
 * const constellations = [{ name: 'GPS', satellites: 10, signals: 2 }];
 * const rates = { rateHz: 1, companions: [], transportBytesPerEpoch: 0, hours: 8, rovers: 1, longestBaselineM: null };
 * const stream = correctionStream({ kind: 'msm4', constellations, ...rates }).value;
 * stream.totalBytesPerS; // 173
 * stream.baseUplinkMb; // 4.9824
 */
export function correctionStream(settings: StreamSettings): Outcome<CorrectionStream> {
  const bad = badSetting(settings);
  if (bad !== null) return invalid(bad.message, bad.received);
  const messages: (MsmMessage & { readonly constellation: string })[] = [];
  for (const { name, satellites, signals } of settings.constellations) {
    // Up to 32 signals a satellite, checked above, always fit a message.
    const split = msmMessages(settings.kind, satellites, signals) as readonly MsmMessage[];
    for (const message of split) messages.push({ ...message, constellation: name });
  }
  return success(
    costOf(
      settings,
      messages,
      messages.reduce((sum, { frameBytes }) => sum + frameBytes, 0),
    ),
  );
}

/** A stream that was recorded: what its observations took in an epoch, in place of their kind. */
export interface RecordedStreamSettings extends Omit<StreamSettings, 'kind'> {
  readonly kind: 'recorded';
  readonly observationBytesPerEpoch: number;
}

/**
 * The same of a stream that was recorded, at its own rate and without its gaps.
 * Problems: as of `correctionStream`.
 */
export function recordedStream(settings: RecordedStreamSettings): Outcome<CorrectionStream> {
  const bad = badSetting(settings);
  return bad === null
    ? success(costOf(settings, [], settings.observationBytesPerEpoch))
    : invalid(bad.message, bad.received);
}

function costOf(
  settings: StreamSettings | RecordedStreamSettings,
  messages: CorrectionStream['messages'],
  observationBytesPerEpoch: number,
): CorrectionStream {
  const observationBytesPerS = observationBytesPerEpoch * settings.rateHz;
  const companionBytesPerS = settings.companions.reduce(
    (sum, { frameBytes, intervalS }) => sum + frameBytes / intervalS,
    0,
  );
  const transportBytesPerS = settings.transportBytesPerEpoch * settings.rateHz;
  const totalBytesPerS = observationBytesPerS + companionBytesPerS + transportBytesPerS;
  const megabytes = (totalBytesPerS * settings.hours * 3600) / 1e6;
  return {
    messages,
    observationBytesPerEpoch,
    observationBytesPerS,
    companionBytesPerS,
    transportBytesPerS,
    totalBytesPerS,
    observationKbitPerS: (observationBytesPerS * 8) / 1000,
    totalKbitPerS: (totalBytesPerS * 8) / 1000,
    baseUplinkMb: megabytes,
    roverDownlinkMb: megabytes,
    billedMb: megabytes * (1 + settings.rovers),
    cautions: cautionsOf(settings),
  };
}

const NAMES: Readonly<Record<string, string>> = {
  gps: 'GPS',
  glonass: 'GLONASS',
  galileo: 'Galileo',
  beidou: 'BeiDou',
  qzss: 'QZSS',
  navic: 'NavIC',
  sbas: 'SBAS',
};

/** A constellation by the name it has; any other as it is called. */
export function constellationName(name: string): string {
  return NAMES[name] ?? name;
}

function cautionsOf({
  kind,
  constellations,
  rateHz,
  companions,
  longestBaselineM,
}: StreamSettings | RecordedStreamSettings): readonly Caution[] {
  const cautions: Caution[] = [];
  const source = 'common practice, no published source';
  if (longestBaselineM !== null && longestBaselineM > LONG_BASELINE_M) {
    const single = constellations.filter(({ signals }) => signals < 2).map(({ name }) => name);
    if (single.length > 0) {
      cautions.push({
        id: 'stream-all-frequencies',
        text: `Baselines above 20 km need every frequency; only one signal is sent for ${single.map(constellationName).join(', ')}.`,
        source,
      });
    }
    if (kind === 'msm4') {
      cautions.push({
        id: 'stream-full-resolution',
        text: 'Baselines above 20 km deserve msm5 or msm7 and a low age rather than the fewest bytes.',
        source,
      });
    }
    if (rateHz < 0.2) {
      cautions.push({
        id: 'stream-slow',
        text: 'With less than one epoch in 5 s the age of corrections grows past what long baselines bear.',
        source,
      });
    }
  }
  if (!companions.some(({ number }) => number === 1005 || number === 1006)) {
    cautions.push({
      id: 'stream-no-base-position',
      text: 'Without message 1005 or 1006 the rover does not know where the base is.',
      source,
    });
  }
  return cautions;
}

function badSetting(
  settings: StreamSettings | RecordedStreamSettings,
): { readonly message: string; readonly received: string } | null {
  const { constellations, rateHz, companions, transportBytesPerEpoch, hours, rovers } = settings;
  if (constellations.length === 0) return { message: 'a stream needs a constellation', received: 'none' };
  const checks: readonly (readonly [string, number, boolean])[] = [
    ['rate', rateHz, rateHz > 0 && rateHz <= 100],
    ['hours', hours, hours >= 0],
    ['number of rovers', rovers, Number.isInteger(rovers) && rovers >= 0],
    ['transport bytes', transportBytesPerEpoch, transportBytesPerEpoch >= 0],
    ...constellations.map(({ name, satellites }): readonly [string, number, boolean] => [
      `number of satellites of ${name}`,
      satellites,
      Number.isInteger(satellites) && satellites >= 0 && satellites <= 64,
    ]),
    ...constellations.map(({ name, signals }): readonly [string, number, boolean] => [
      `number of signals of ${name}`,
      signals,
      Number.isInteger(signals) && signals >= 1 && signals <= 32,
    ]),
    ...companions.map(({ number, intervalS }): readonly [string, number, boolean] => [
      `interval of message ${String(number)}`,
      intervalS,
      intervalS > 0,
    ]),
    ...companions.map(({ number, frameBytes }): readonly [string, number, boolean] => [
      `size of message ${String(number)}`,
      frameBytes,
      frameBytes > 0,
    ]),
  ];
  const wrong = checks.find(([, value, fits]) => !fits || !Number.isFinite(value));
  return wrong === undefined
    ? null
    : { message: `the ${wrong[0]} of a stream cannot be ${String(wrong[1])}`, received: String(wrong[1]) };
}

function invalid(message: string, received: string): Outcome<CorrectionStream> {
  return failure(errorProblem('config-invalid-value', { message, received }));
}
