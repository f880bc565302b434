import { describe, expect, it } from 'vitest';
import { correctionStream, USUAL_COMPANIONS } from '../../../../src/core/planning/stream/correction-stream.js';
import type { CorrectionStream, StreamSettings } from '../../../../src/core/planning/stream/correction-stream.js';
import { msmMessages } from '../../../../src/core/planning/stream/msm-messages.js';
import type { MsmKind } from '../../../../src/core/planning/stream/msm-messages.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

const PLAIN: StreamSettings = {
  kind: 'msm7',
  constellations: [{ name: 'GPS', satellites: 10, signals: 3 }],
  rateHz: 1,
  companions: [],
  transportBytesPerEpoch: 0,
  hours: 8,
  rovers: 1,
  longestBaselineM: null,
};

function stream(change: Partial<StreamSettings> = {}): CorrectionStream {
  const made = correctionStream({ ...PLAIN, ...change });
  if (!made.ok) throw new Error(made.problems[0]?.message ?? 'no stream');
  return made.value;
}

describe('correctionStream', () => {
  for (const row of readReferenceTable('stream')) {
    it(`gives ${row.text('quantity')} of ${row.case}`, () => {
      const kind = row.text('kind_of_message') as MsmKind;
      const signals = row.numbers('signals');
      const constellations = row
        .numbers('satellites')
        .map((satellites, i) => ({ name: String(i), satellites, signals: signals[i] ?? 0 }));
      const quantity = row.text('quantity');
      const made = stream({
        kind,
        constellations,
        hours: quantity === 'mb-24-h' ? 24 : 8,
        transportBytesPerEpoch: quantity.endsWith('transport') ? 52 : 0,
      });
      const first = made.messages[0];
      const found: Readonly<Record<string, number | undefined>> = {
        'frame-bytes': first?.frameBytes,
        'content-bits': first?.contentBits,
        'content-bits-less-mask': first === undefined ? undefined : first.contentBits - first.cells,
        'bytes-per-s': made.observationBytesPerS,
        'kbit-per-s': made.observationKbitPerS,
        'mb-8-h': made.baseUplinkMb,
        'mb-24-h': made.baseUplinkMb,
        'mb-8-h-transport': made.baseUplinkMb,
      };
      const value = found[quantity];
      expect(value).toBeDefined();
      expect(Math.abs((value ?? Number.NaN) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }

  it('never puts more than 64 cells in a message, and loses no satellite when it splits', () => {
    for (const kind of ['msm4', 'msm5', 'msm6', 'msm7'] as const) {
      for (let satellites = 0; satellites <= 40; satellites += 1) {
        for (let signals = 1; signals <= 8; signals += 1) {
          const messages = msmMessages(kind, satellites, signals) ?? [];
          for (const { cells } of messages) expect(cells).toBeLessThanOrEqual(64);
          expect(messages.reduce((sum, message) => sum + message.satellites, 0)).toBe(satellites);
          expect(messages).toHaveLength(Math.ceil(satellites / Math.floor(64 / signals)));
        }
      }
    }
  });

  it('keeps every message within the 1023 bytes a frame can hold', () => {
    for (let signals = 1; signals <= 32; signals += 1) {
      for (const message of msmMessages('msm7', 64, signals) ?? [])
        expect(message.contentBytes).toBeLessThanOrEqual(1023);
    }
  });

  it('adds companions by their interval, transport by the epoch, and bills the uplink and each downlink', () => {
    const made = stream({ companions: USUAL_COMPANIONS, transportBytesPerEpoch: 52, rateHz: 2, rovers: 3 });
    expect(made.companionBytesPerS).toBeCloseTo((27 + 75 + 18) / 10, 12);
    expect(made.transportBytesPerS).toBe(104);
    expect(made.totalBytesPerS).toBeCloseTo(2 * 376 + 12 + 104, 12);
    expect(made.billedMb).toBeCloseTo(4 * made.baseUplinkMb, 12);
    expect(made.roverDownlinkMb).toBe(made.baseUplinkMb);
  });

  it('knows the frames of messages 1033 and 1230 (from memory: 72 bits and a byte a character; 32 bits and 16 a bias)', () => {
    const frameBytes = (number: number): number | undefined =>
      USUAL_COMPANIONS.find((message) => message.number === number)?.frameBytes;
    // Three bytes before the content and three of check after it; 60 characters of names, four biases.
    expect(frameBytes(1033)).toBe(3 + 72 / 8 + 60 + 3);
    expect(frameBytes(1230)).toBe(3 + (32 + 4 * 16) / 8 + 3);
  });

  it('warns where a long baseline gets one frequency, compact messages or no base position', () => {
    const ids = (change: Partial<StreamSettings>): readonly string[] => stream(change).cautions.map(({ id }) => id);
    const single = [{ name: 'GPS', satellites: 10, signals: 1 }];
    expect(ids({ constellations: single, longestBaselineM: 60_000, kind: 'msm4' })).toEqual([
      'stream-all-frequencies',
      'stream-full-resolution',
      'stream-no-base-position',
    ]);
    expect(ids({ constellations: single, longestBaselineM: 5000, kind: 'msm4', companions: USUAL_COMPANIONS })).toEqual(
      [],
    );
    expect(ids({ longestBaselineM: 60_000, rateHz: 0.1, companions: USUAL_COMPANIONS })).toEqual(['stream-slow']);
  });

  it('refuses settings that cannot be', () => {
    const bad: readonly Partial<StreamSettings>[] = [
      { rateHz: 0 },
      { rateHz: Number.NaN },
      { hours: -1 },
      { rovers: 1.5 },
      { constellations: [] },
      { constellations: [{ name: 'x', satellites: 65, signals: 1 }] },
      { constellations: [{ name: 'x', satellites: 10, signals: 0 }] },
      { companions: [{ number: 1006, frameBytes: 27, intervalS: 0 }] },
    ];
    for (const change of bad)
      expect(
        correctionStream({ ...PLAIN, ...change }).problems.map(({ code }) => code),
        JSON.stringify(change),
      ).toEqual(['config-invalid-value']);
  });

  it('refuses a constellation of which one satellite alone fills more than a message', () => {
    expect(msmMessages('msm7', 8, 65)).toBeNull();
    expect(msmMessages('msm7', 8, 64)).toHaveLength(8);
    const made = correctionStream({ ...PLAIN, constellations: [{ name: 'Invented', satellites: 8, signals: 65 }] });
    expect(made.problems[0]).toMatchObject({ code: 'config-invalid-value', received: '65' });
  });
});
