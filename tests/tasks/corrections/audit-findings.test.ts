import { describe, expect, it } from 'vitest';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { CorrectionAudit, SentPosition, StationAudit } from '../../../src/records/corrections/correction-audit.js';
import { auditFindings, isForReview } from '../../../src/tasks/corrections/audit-findings.js';

// Each finding beside the case just inside it; the limits are common practice, no published source.
const geodetic = { latitudeDeg: -31.512_345_678, longitudeDeg: 21.412_345_678, ellipsoidalHeightM: 1043.2 };
const ARP = geodeticToGeocentric(geodetic, WGS84);
const position = (own: Partial<SentPosition> = {}): SentPosition =>
  ({
    arp: ARP,
    geodetic,
    antennaHeightM: null,
    itrfYear: 0,
    isComputed: false,
    quarterCycle: 0,
    firstMs: null,
    ...own,
  }) as unknown as SentPosition;
const listed = <T>(...items: readonly T[]) => ({ listed: items, leftOut: 0 });
const GPS = { constellation: 'GPS' } as unknown as StationAudit['constellations'][number];
const GLONASS = { constellation: 'GLONASS' } as unknown as StationAudit['constellations'][number];
const station = (own: object = {}): object => ({
  stationId: 7,
  positions: listed(position()),
  names: listed(),
  epochs: { count: 20, stepsBack: 0, gaps: listed() },
  incompleteEpochs: 0,
  constellations: [GPS],
  biases: null,
  timeChecks: [],
  texts: listed(),
  ...own,
});
const found = (stations: readonly object[], own: object = {}): readonly string[] =>
  auditFindings({
    stations,
    frames: { good: 90, damaged: 0, isCut: false },
    shortMessages: 0,
    calendar: { zeroMs: null, statedOffS: null },
    intervals: [],
    messages: [],
    ...own,
  } as unknown as CorrectionAudit)
    .filter(({ code }) => !code.startsWith('stream-interval'))
    .map(({ code, message }) => `${code}: ${message}`);
const ofStation = (own: object): readonly string[] => found([station(own)]);
const ofPositions = (...positions: readonly SentPosition[]): readonly string[] =>
  ofStation({ positions: listed(...positions) });
const moved = (xM: number): SentPosition['arp'] => ({ ...ARP, xM: ARP.xM + xM });

describe('findings of a recording', () => {
  it.each([
    [{}, []],
    [{ calendar: { zeroMs: null, statedOffS: 60 } }, []],
    [
      { calendar: { zeroMs: null, statedOffS: -61 } },
      ['stream-date-disagrees: the stream says a time that is -61 s from that of its epochs'],
    ],
    [{ frames: { good: 90, damaged: 1, isCut: false } }, ['stream-damaged: 1 frame of 91 came damaged']],
    [{ frames: { good: 90, damaged: 10, isCut: false } }, ['stream-damaged: 10 frames of 100 came damaged']],
    [{ frames: { good: 90, damaged: 0, isCut: true } }, ['stream-cut: the recording ends within a frame']],
    [{ shortMessages: 1 }, ['stream-short-message: 1 message is shorter than they say']],
    [{ shortMessages: 2 }, ['stream-short-message: 2 messages are shorter than they say']],
  ])('%j', (own, expected) => {
    expect(found([], own)).toEqual(expected);
  });
});

describe('findings of the coordinate of a station', () => {
  it('say that it sends none, where it observes', () => {
    expect(ofPositions()).toEqual(['stream-no-position: station 7: observations without a coordinate (1005, 1006)']);
    expect(ofStation({ positions: listed(), constellations: [] })).toEqual([]);
  });

  it('say how far it moved, or that what is said beside it changed', () => {
    expect(ofPositions(position(), position())).toEqual([]);
    expect(ofPositions(position(), position({ arp: moved(0.5) }))).toEqual([
      'stream-position-changed: station 7: the coordinate changed by 0.5000 m',
    ]);
    const arp = { xM: ARP.xM + 2, yM: ARP.yM - 3, zM: ARP.zM + 6 };
    expect(ofPositions(position(), position({ arp }))[0]).toContain('changed by 7.0000 m');
    for (const own of [{ itrfYear: 14 }, { quarterCycle: 1 }])
      expect(ofPositions(position(), position(own))).toEqual([
        'stream-position-changed: station 7: what is said beside the coordinate changed',
      ]);
    expect(ofPositions(position(), position({ isComputed: true }))).toEqual([
      'stream-position-changed: station 7: what is said beside the coordinate changed',
      'stream-station-computed: station 7: a network computes it; no antenna stands there',
    ]);
    expect(ofPositions(position({ isComputed: true }))).toHaveLength(1);
  });

  it('say when its antenna height changed, where both are known', () => {
    const changed = ofPositions(position({ antennaHeightM: 1.5 }), position({ antennaHeightM: 1.6 }));
    expect(changed).toEqual([
      'stream-antenna-height-changed: station 7: the antenna height changed from 1.5000 m to 1.6000 m',
    ]);
    expect(ofPositions(position({ antennaHeightM: 1.5 }), position({ antennaHeightM: 1.5 }))).toEqual([]);
    expect(ofPositions(position({ antennaHeightM: 1.5 }), position())).toEqual([]);
    expect(ofPositions(position(), position({ antennaHeightM: 1.5 }))).toEqual([]);
  });

  it('say how many changes are not listed', () => {
    expect(ofStation({ positions: { listed: [position()], leftOut: 3 } })).toEqual([
      'stream-position-changed: station 7: 3 more changes',
    ]);
  });

  it('say that it is no place beyond 20 km above or below the ellipsoid', () => {
    const at = (ellipsoidalHeightM: number) => ofPositions(position({ geodetic: { ...geodetic, ellipsoidalHeightM } }));
    expect(at(20_000)).toEqual([]);
    expect(at(20_001)).toEqual([
      'stream-no-position: station 7: the coordinate sent is no place on the ground: the base was told none',
    ]);
    expect(at(-20_001)).toHaveLength(1);
  });

  it('say that it was typed in, by its round numbers, once for each rounding', () => {
    const round = position({ arp: { xM: 5_068_746, yM: 1_986_420, zM: -3_313_809 } });
    expect(ofPositions(round, { ...round })).toEqual([
      'stream-position-rounded: station 7: X, Y and Z are multiples of 1 m: the coordinate was typed in',
    ]);
    const degrees = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 };
    expect(ofPositions(position({ arp: geodeticToGeocentric(degrees, WGS84), geodetic: degrees }))).toEqual([
      expect.stringMatching(
        /^stream-position-rounded: station 7: latitude and longitude are multiples of 0\.\d{6}°: the coordinate was typed in$/u,
      ),
    ]);
  });
});

describe('findings of the names and the sending of a station', () => {
  const names = (antenna: string, receiver: string | null = null) => ({ antenna, receiver, firstMs: null });
  it('say that the names changed, with the receiver where it is known', () => {
    expect(ofStation({ names: listed(names('ANT A')) })).toEqual([]);
    expect(ofStation({ names: listed(names('ANT A'), names('ANT B '), names('ANT C', 'REC')) })).toEqual([
      'stream-names-changed: station 7: antenna ANT B',
      'stream-names-changed: station 7: antenna ANT C, receiver REC',
    ]);
  });
  it('say that observations are reduced to no antenna, however its name is written', () => {
    for (const name of ['ADVNULLANTENNA', 'null antenna', 'NULL_ANTENNA', 'Null-Antenna '])
      expect(ofStation({ names: listed(names(name)) })).toEqual([
        `stream-null-antenna: station 7: antenna ${name.trim()}`,
      ]);
  });
  it('say that GLONASS comes without its biases', () => {
    expect(ofStation({ constellations: [GPS, GLONASS] })).toEqual([
      'stream-no-biases: station 7: GLONASS comes without message 1230',
    ]);
    expect(ofStation({ constellations: [GPS, GLONASS], biases: { isAligned: true, biasesM: [] } })).toEqual([]);
  });
  it('say that times disagree in more than a tenth of the epochs', () => {
    const check = (disagreeing: number) =>
      ofStation({
        timeChecks: [{ constellation: 'Galileo', against: 'GPS', compared: 100, disagreeing, largestMs: 0 }],
      });
    expect(check(10)).toEqual([]);
    expect(check(11)).toEqual([
      'stream-times-disagree: station 7: Galileo is another instant than GPS in 11 of 100 epochs',
    ]);
  });
  it('count incomplete epochs and steps back', () => {
    expect(ofStation({ incompleteEpochs: 1 })).toEqual([
      'stream-epochs-incomplete: station 7: 1 of 20 epochs are incomplete',
    ]);
    const back = (stepsBack: number) => ofStation({ epochs: { count: 20, stepsBack, gaps: listed() } });
    expect(back(1)).toEqual(['stream-time-back: station 7: time steps back 1 time']);
    expect(back(2)).toEqual(['stream-time-back: station 7: time steps back 2 times']);
  });
  it('ask for a review, but for three that are only to be known', () => {
    const isAsked = (code: string): boolean => isForReview({ code } as Parameters<typeof isForReview>[0]);
    for (const code of ['stream-station-computed', 'stream-null-antenna', 'stream-cut'])
      expect(isAsked(code)).toBe(false);
    for (const code of ['stream-position-changed', 'stream-damaged']) expect(isAsked(code)).toBe(true);
  });
});

describe('findings of intervals', () => {
  const all = (stations: readonly object[], messages: readonly object[]): readonly string[] =>
    auditFindings({
      stations,
      frames: { good: 90, damaged: 0, isCut: false },
      shortMessages: 0,
      calendar: { zeroMs: null, statedOffS: null },
      messages,
    } as unknown as CorrectionAudit).map(({ code, message }) => `${code}: ${message}`);
  const message = (usualIntervalS: number | null, announcedIntervalS: number | null, own = {}) => ({
    stationId: 7,
    number: 1006,
    usualIntervalS,
    announcedIntervalS,
    ...own,
  });
  const stepping = (usualIntervalS: number | null) =>
    station({ epochs: { count: 20, stepsBack: 0, gaps: listed(), usualIntervalS } });
  it.each([
    // A fifth of the announced interval; of a message without a time of its own, an epoch more or less as well.
    ['as announced', message(10, 10), 1, true],
    ['a fifth longer', message(12, 10), 1, true],
    ['more than a fifth longer', message(12.1, 10), 1, false],
    ['more than a fifth shorter', message(7.9, 10), 1, false],
    ['an epoch of five seconds longer', message(15, 10), 5, true],
    ['more than an epoch longer', message(15.1, 10), 5, false],
    ['each epoch, and announced less often', message(5, 10), 5, false],
    ['longer, where no interval of epochs is known', message(12.1, 10), null, false],
    ['of which none is announced', message(10, null), 1, true],
    ['that came once', message(null, 10), 1, true],
    ['of another station', message(12.1, 10, { stationId: 8 }), 5, false],
  ] as const)('hold a message %s', (_, sent, stepS, isKept) => {
    expect(all([stepping(stepS)], [sent])).toEqual(
      isKept
        ? []
        : [
            `stream-interval: station ${String(sent.stationId)}: message 1006 comes each ${(sent.usualIntervalS ?? 0).toFixed(1)} s and is announced each 10.0 s`,
          ],
    );
  });
  it('count the gaps, and name the longest, of equals the first', () => {
    const gaps = (leftOut: number, ...ends: readonly (readonly [number, number])[]) =>
      all(
        [
          station({
            epochs: {
              count: 20,
              stepsBack: 0,
              gaps: { listed: ends.map(([from, to]) => ({ fromMs: 1000 * from, toMs: 1000 * to })), leftOut },
            },
          }),
        ],
        [],
      );
    expect(gaps(0, [10, 12])).toEqual([
      expect.stringMatching(/^stream-gap: station 7: 1 gap between epochs, the longest 2\.0 s from /u),
    ]);
    const [two] = gaps(3, [10, 12], [20, 25], [30, 35]);
    expect(two).toContain('6 gaps between epochs, the longest 5.0 s from ');
    expect(two).toBe(gaps(3, [10, 12], [20, 25], [40, 42])[0]?.replace('40', '20'));
  });
});
