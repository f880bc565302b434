import { expect, it } from 'vitest';
import { frameOf, msmBits, stationBits } from '../../../examples/quillback-pan-link/rtcm-encode.mjs';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { readMessage } from '../../../src/io/rtcm/read-message.js';
import type { CorrectionAudit } from '../../../src/records/corrections/correction-audit.js';
import { createCorrectionCount } from '../../../src/tasks/corrections/correction-audit.js';
import { planStream } from '../../../src/tasks/plan/plan-stream.js';
import { recordedAsked } from '../../../src/tasks/plan/recorded-asked.js';

const places = (count: number): readonly number[] => Array.from({ length: count }, (_, index) => index + 1);

/** A recording of MSM7 of ten satellites with three signals each second, and 1006 each ten; `missing` epochs are not there. */
function recording(stations: readonly number[], missing: (second: number) => boolean = () => false): CorrectionAudit {
  const count = createCorrectionCount();
  count.begin();
  const add = (content: string): void => {
    const frame = frameOf(content);
    count.add(readMessage(frame.subarray(3, -3)), frame.length - 6);
  };
  for (let second = 0; second < 60; second += 1) {
    if (missing(second)) continue;
    for (const stationId of stations) {
      const cells = Array.from({ length: 30 }, () => true);
      const masks = { satellites: places(10), signals: places(3), cells };
      add(msmBits({ number: 1077, stationId, timeMs: second * 1000, isFollowed: false, ...masks }));
      if (second % 10 === 0) add(stationBits({ stationId, xM: 1, yM: 2, zM: 3, antennaHeightM: 1 }));
    }
  }
  return count.result(null, WGS84);
}

it('costs what the formula says of the same messages, with gaps in the recording or without', () => {
  const by = { name: 'gps', satellites: 10, signals: 3 };
  const common = { constellations: [by], rateHz: 1, hours: 8, rovers: 1 };
  const formula = planStream({ kind: 'msm7', ...common }, 0);
  if (!formula.ok) throw new Error('no stream');
  for (const missing of [() => false, (second: number) => second > 20 && second < 40]) {
    const asked = recordedAsked(recording([1], missing), 8, 1);
    if (!asked.ok) throw new Error('no recording');
    expect(asked.value).toMatchObject({ ...common, companions: [{ number: 1006, frameBytes: 27, intervalS: 10 }] });
    const recorded = planStream(asked.value, 0);
    if (!recorded.ok) throw new Error('no stream');
    expect(recorded.value.cost.observationBytesPerS).toBe(formula.value.cost.observationBytesPerS);
    // 52 bytes of transport each second, and 2.7 of 1006 in place of all companions.
    expect(recorded.value.cost.totalBytesPerS).toBeCloseTo(formula.value.cost.observationBytesPerS + 54.7, 9);
  }
});

it('is refused of two bases, and of one epoch', () => {
  expect(recordedAsked(recording([1, 2]), 8, 1)).toMatchObject({ ok: false, problems: [{ code: 'stream-no-frames' }] });
  expect(
    recordedAsked(
      recording([1], (second) => second > 0),
      8,
      1,
    ),
  ).toMatchObject({ ok: false });
});

it('counts messages that come several at a time with all their bytes', () => {
  const count = createCorrectionCount();
  count.begin();
  const add = (content: string): void => {
    const frame = frameOf(content);
    count.add(readMessage(frame.subarray(3, -3)), frame.length - 6);
  };
  // 1019, an ephemeris: number 12 bits and 476 more, ten satellites each thirty seconds.
  const ephemeris = (1019).toString(2).padStart(12, '0').padEnd(488, '0');
  for (let second = 0; second < 120; second += 1) {
    const masks = { satellites: [1], signals: [2], cells: [true] };
    add(msmBits({ number: 1074, stationId: 1, timeMs: second * 1000, isFollowed: false, ...masks }));
    if (second % 30 === 0) for (let satellite = 0; satellite < 10; satellite += 1) add(ephemeris);
  }
  const asked = recordedAsked(count.result(null, WGS84), 8, 1);
  // Ten frames of 61 + 6 bytes.
  expect(asked).toMatchObject({ ok: true, value: { companions: [{ number: 1019, frameBytes: 670, intervalS: 30 }] } });
});

// RTCM-10403: 1001, 1002, 1009 and 1010 hold L1 alone; 1003, 1004, 1011 and 1012 hold L1 and L2.
it.each([
  [1001, 1],
  [1002, 1],
  [1003, 2],
  [1004, 2],
  [1009, 1],
  [1010, 1],
  [1011, 2],
  [1012, 2],
])('takes a message %i without a mask of signals for %i', (number, signals) => {
  const constellation = { constellation: 'GPS', meanSatellites: 9.6, signals: [], messages: [number] };
  const asked = recordedAsked(
    {
      stations: [{ constellations: [constellation], epochs: { usualIntervalS: 0.3, count: 60 } }],
      messages: [{ number, bytes: 6000, count: 60, usualIntervalS: 0.3 }],
    } as unknown as CorrectionAudit,
    8,
    2,
  );
  expect(asked).toMatchObject({
    ok: true,
    value: {
      constellations: [{ name: 'gps', satellites: 10, signals }],
      rateHz: 3.333333,
      observationBytesPerEpoch: 100,
      companions: [],
    },
  });
});
