// Writes RTCM 3 frames: what the generator of the stream and the tests of the reader make their bytes with. It shares nothing
// with the reader: bits are texts of 0 and 1 here, and the check is a division, bit by bit.

/** A number as so many bits; negative ones as two's complement. */
export function bits(value, count) {
  const whole = BigInt.asUintN(count, BigInt(value));
  return whole.toString(2).padStart(count, '0');
}

const flag = (value) => (value ? '1' : '0');
const tenths = (metres) => Math.round(metres * 10_000);
const counted = (bytes) => bits(bytes.length, 8) + [...bytes].map((byte) => bits(byte, 8)).join('');
const text = (characters) => counted([...characters].map((character) => character.charCodeAt(0)));

/** 1005, or 1006 where a height of the antenna is given. */
export function stationBits({
  stationId,
  itrfYear = 0,
  isComputed = false,
  xM,
  yM,
  zM,
  quarterCycle = 0,
  antennaHeightM = null,
}) {
  return (
    bits(antennaHeightM === null ? 1005 : 1006, 12) +
    bits(stationId, 12) +
    bits(itrfYear, 6) +
    '111' +
    flag(isComputed) +
    bits(tenths(xM), 38) +
    '00' +
    bits(tenths(yM), 38) +
    bits(quarterCycle, 2) +
    bits(tenths(zM), 38) +
    (antennaHeightM === null ? '' : bits(tenths(antennaHeightM), 16))
  );
}

/** 1007, 1008 or 1033, by what is given. */
export function namesBits({
  stationId,
  antenna,
  setupId = 0,
  antennaSerial = null,
  receiver = null,
  firmware = '',
  receiverSerial = '',
}) {
  const number = receiver !== null ? 1033 : antennaSerial !== null ? 1008 : 1007;
  return (
    bits(number, 12) +
    bits(stationId, 12) +
    text(antenna) +
    bits(setupId, 8) +
    (number === 1007 ? '' : text(antennaSerial ?? '')) +
    (number === 1033 ? text(receiver) + text(firmware) + text(receiverSerial) : '')
  );
}

/** 1013. */
export function announcementBits({ stationId, modifiedJulianDay, secondOfDay, leapSeconds, announced }) {
  return (
    bits(1013, 12) +
    bits(stationId, 12) +
    bits(modifiedJulianDay, 16) +
    bits(secondOfDay, 17) +
    bits(announced.length, 5) +
    bits(leapSeconds, 8) +
    announced
      .map(
        ({ number, isSynchronous, intervalS }) =>
          bits(number, 12) + flag(isSynchronous) + bits(Math.round(intervalS * 10), 16),
      )
      .join('')
  );
}

/** 1029. */
export function textBits({ stationId, modifiedJulianDay, secondOfDay, text: characters }) {
  const bytes = new TextEncoder().encode(characters);
  return (
    bits(1029, 12) +
    bits(stationId, 12) +
    bits(modifiedJulianDay, 16) +
    bits(secondOfDay, 17) +
    bits([...characters].length, 7) +
    counted(bytes)
  );
}

/** 1230: biases in steps of 0.02 m by the bits of the mask, null where a signal is not sent. */
export function biasesBits({ stationId, isAligned, steps }) {
  return (
    bits(1230, 12) +
    bits(stationId, 12) +
    flag(isAligned) +
    '000' +
    steps.map((step) => flag(step !== null)).join('') +
    steps.map((step) => (step === null ? '' : bits(step, 16))).join('')
  );
}

const SATELLITE_BITS = { 1: 10, 2: 10, 3: 10, 4: 18, 5: 36, 6: 18, 7: 36 };
const CELL_BITS = { 1: 15, 2: 27, 3: 42, 4: 48, 5: 63, 6: 65, 7: 80 };

/**
 * A multiple signal message: satellites and signals by their numbers from 1, `cells` a list of flags, satellite by satellite.
 * What stands behind the masks is noise of `random`, a function that gives 0 to below 1, or zeros without one.
 */
export function msmBits({
  number,
  stationId,
  timeMs,
  dayOfWeek = null,
  isFollowed,
  satellites,
  signals,
  cells,
  random = null,
}) {
  const kind = number % 10;
  const mask = (places, count) =>
    Array.from({ length: count }, (_, index) => flag(places.includes(index + 1))).join('');
  const sent = cells.filter(Boolean).length;
  const rest = satellites.length * SATELLITE_BITS[kind] + sent * CELL_BITS[kind];
  return (
    bits(number, 12) +
    bits(stationId, 12) +
    (dayOfWeek === null ? bits(timeMs, 30) : bits(dayOfWeek, 3) + bits(timeMs, 27)) +
    flag(isFollowed) +
    '0'.repeat(18) +
    mask(satellites, 64) +
    mask(signals, 32) +
    cells.map(flag).join('') +
    Array.from({ length: rest }, () => flag(random !== null && random() < 0.5)).join('')
  );
}

/** The head of an older message of observations (1001 to 1004, 1009 to 1012), and so many bits of zeros behind it. */
export function olderBits({ number, stationId, timeMs, isFollowed, satellites, behind }) {
  return (
    bits(number, 12) +
    bits(stationId, 12) +
    bits(timeMs, number >= 1009 ? 27 : 30) +
    flag(isFollowed) +
    bits(satellites, 5) +
    '0000' +
    '0'.repeat(behind)
  );
}

/** The frame about a content of bits, filled up to whole bytes, with so many bytes of padding behind it. */
export function frameOf(contentBits, padding = 0) {
  const length = Math.ceil(contentBits.length / 8) + padding;
  const content = contentBits.padEnd(length * 8, '0');
  const whole = bits(0xd3, 8) + '000000' + bits(length, 10) + content;
  return bytesOf(whole + checkOf(whole));
}

/** The check of 24 bits, by dividing. */
function checkOf(whole) {
  const generator = 0x1864cfb;
  let rest = 0;
  for (const bit of whole + '0'.repeat(24)) {
    rest = rest * 2 + (bit === '1' ? 1 : 0);
    if (rest >= 0x1000000) rest ^= generator;
  }
  return bits(rest, 24);
}

function bytesOf(whole) {
  return Uint8Array.from({ length: whole.length / 8 }, (_, index) =>
    Number.parseInt(whole.slice(index * 8, index * 8 + 8), 2),
  );
}
