import type {
  AnnouncementMessage,
  BiasesMessage,
  NamesMessage,
  StationMessage,
  TextMessage,
} from '../../records/corrections/correction-message.js';
import type { BitReader } from './bit-reader.js';

/** Coordinates and heights are whole tenths of a millimetre. */
const UNITS_A_METRE = 10_000;
const COORDINATE_BITS = 38;

/** 1005 and 1006. The reader stands behind the number; so it does below. */
export function readStation(number: 1005 | 1006, bits: BitReader): StationMessage {
  const stationId = bits.unsigned(12);
  const itrfYear = bits.unsigned(6);
  // Which of GPS, GLONASS and Galileo the station serves; the messages themselves say it.
  bits.skip(3);
  const isComputed = bits.isSet();
  const xM = bits.signed(COORDINATE_BITS) / UNITS_A_METRE;
  // One oscillator for all signals, and a bit of nothing.
  bits.skip(2);
  const yM = bits.signed(COORDINATE_BITS) / UNITS_A_METRE;
  const quarterCycle = bits.unsigned(2);
  const zM = bits.signed(COORDINATE_BITS) / UNITS_A_METRE;
  const antennaHeightM = number === 1006 ? bits.unsigned(16) / UNITS_A_METRE : null;
  return { kind: 'station', number, stationId, itrfYear, isComputed, xM, yM, zM, quarterCycle, antennaHeightM };
}

/** 1007, 1008 and 1033. */
export function readNames(number: 1007 | 1008 | 1033, bits: BitReader): NamesMessage {
  const stationId = bits.unsigned(12);
  const antenna = countedText(bits);
  const setupId = bits.unsigned(8);
  const antennaSerial = number === 1007 ? null : countedText(bits);
  const [receiver, firmware, receiverSerial] =
    number === 1033 ? [countedText(bits), countedText(bits), countedText(bits)] : [null, null, null];
  return { kind: 'names', number, stationId, antenna, setupId, antennaSerial, receiver, firmware, receiverSerial };
}

/** 1013. */
export function readAnnouncement(bits: BitReader): AnnouncementMessage {
  const stationId = bits.unsigned(12);
  const modifiedJulianDay = bits.unsigned(16);
  const secondOfDay = bits.unsigned(17);
  const count = bits.unsigned(5);
  const leapSeconds = bits.unsigned(8);
  const announced = Array.from({ length: count }, () => ({
    number: bits.unsigned(12),
    isSynchronous: bits.isSet(),
    intervalS: bits.unsigned(16) / 10,
  }));
  return { kind: 'announcement', number: 1013, stationId, modifiedJulianDay, secondOfDay, leapSeconds, announced };
}

/** 1029. */
export function readText(bits: BitReader): TextMessage {
  const stationId = bits.unsigned(12);
  const modifiedJulianDay = bits.unsigned(16);
  const secondOfDay = bits.unsigned(17);
  const characters = bits.unsigned(7);
  const count = bits.unsigned(8);
  const text = new TextDecoder().decode(bits.bytes(count));
  return { kind: 'text', number: 1029, stationId, modifiedJulianDay, secondOfDay, characters, text };
}

/** In the order of the bits of the mask. */
const BIAS_SIGNALS = ['L1 C/A', 'L1 P', 'L2 C/A', 'L2 P'] as const;
const BIAS_UNIT_M = 0.02;
/** Of sixteen bits; from memory. */
const NOT_VALID = -0x8000;

/** 1230. */
export function readBiases(bits: BitReader): BiasesMessage {
  const stationId = bits.unsigned(12);
  const isAligned = bits.isSet();
  bits.skip(3);
  const mask = BIAS_SIGNALS.filter(() => bits.isSet());
  const biasesM = mask.map((signal) => {
    const value = bits.signed(16);
    return { signal, biasM: value === NOT_VALID ? null : value * BIAS_UNIT_M };
  });
  return { kind: 'biases', number: 1230, stationId, isAligned, biasesM };
}

/** Characters of eight bits behind their count. */
function countedText(bits: BitReader): string {
  return Array.from(bits.bytes(bits.unsigned(8)), (byte) => String.fromCharCode(byte)).join('');
}
