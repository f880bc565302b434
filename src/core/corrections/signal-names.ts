import type { Constellation } from '../../records/corrections/correction-message.js';

const FIFTH = { 22: '5I', 23: '5Q', 24: '5X' } as const;
const SECOND_CIVIL = { 15: '2S', 16: '2L', 17: '2X' } as const;
const FIRST_CIVIL = { 30: '1S', 31: '1L', 32: '1X' } as const;

/** Codes of RINEX 3 by the numbers of signals in the mask. From memory of RTCM-10403. */
const NAMES: Readonly<Record<Constellation, Readonly<Record<number, string>>>> = {
  GPS: { 2: '1C', 3: '1P', 4: '1W', 8: '2C', 9: '2P', 10: '2W', ...SECOND_CIVIL, ...FIFTH, ...FIRST_CIVIL },
  GLONASS: { 2: '1C', 3: '1P', 8: '2C', 9: '2P' },
  Galileo: {
    ...{ 2: '1C', 3: '1A', 4: '1B', 5: '1X', 6: '1Z', 8: '6C', 9: '6A', 10: '6B', 11: '6X', 12: '6Z' },
    ...{ 14: '7I', 15: '7Q', 16: '7X', 18: '8I', 19: '8Q', 20: '8X', ...FIFTH },
  },
  SBAS: { 2: '1C', ...FIFTH },
  QZSS: { 2: '1C', 9: '6S', 10: '6L', 11: '6X', ...SECOND_CIVIL, ...FIFTH, ...FIRST_CIVIL },
  BeiDou: {
    ...{ 2: '2I', 3: '2Q', 4: '2X', 8: '6I', 9: '6Q', 10: '6X', 14: '7I', 15: '7Q', 16: '7X' },
    ...{ 22: '5D', 23: '5P', 24: '5X', 25: '7D', 30: '1D', 31: '1P', 32: '1X' },
  },
  NavIC: { 22: '5A' },
};

/** The code of a signal, such as 1C; where none is known its number in the mask, such as `#7`. */
export function signalName(constellation: Constellation, signal: number): string {
  return NAMES[constellation][signal] ?? `#${String(signal)}`;
}
