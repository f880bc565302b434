import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { frameOf, stationBits } from '../../../examples/quillback-pan-link/rtcm-encode.mjs';
import { crc24q } from '../../../src/io/rtcm/crc-24q.js';
import { createFrameReader } from '../../../src/io/rtcm/frame-reader.js';
import type { FrameCounts } from '../../../src/records/corrections/frame-counts.js';
import { readMessage } from '../../../src/io/rtcm/read-message.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';

const bytesOf = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex, 'hex'));
const INVENTED = readReferenceTable('rtcm-frames').map((row) => bytesOf(row.text('frame_hex')));

interface Found {
  readonly contents: readonly string[];
  readonly offsets: readonly number[];
  readonly counts: FrameCounts;
}

function found(pieces: Iterable<Uint8Array>): Found {
  const contents: string[] = [];
  const offsets: number[] = [];
  const reader = createFrameReader((content, offset) => {
    contents.push(Buffer.from(content).toString('hex'));
    offsets.push(offset);
  });
  for (const piece of pieces) reader.push(piece);
  reader.end();
  return { contents, offsets, counts: reader.counts() };
}

function* pieces(bytes: Uint8Array, size: () => number): Generator<Uint8Array> {
  for (let from = 0; from < bytes.length;) {
    const to = Math.min(bytes.length, from + size());
    yield bytes.slice(from, to);
    from = to;
  }
}

describe('crc24q', () => {
  for (const row of readReferenceTable('crc-24q'))
    it(`gives the check of ${row.case}`, () => {
      expect(
        crc24q(bytesOf(row.text('bytes_hex')))
          .toString(16)
          .padStart(6, '0')
          .toUpperCase(),
      ).toBe(row.text('crc_hex'));
    });

  it('is 0 of a whole frame with its check, which the encoder made by dividing', () => {
    for (const frame of INVENTED) expect(crc24q(frame)).toBe(0);
  });
});

describe('createFrameReader', () => {
  it('finds frames behind text, between other bytes and after a preamble that is none', () => {
    const [first = new Uint8Array(), second = new Uint8Array()] = INVENTED;
    const stream = Buffer.concat([
      Buffer.from('ICY 200 OK\r\nContent-Type: gnss/data\r\n\r\n'),
      first,
      Buffer.from([0xd3, 0xd3, 0x00, 0x02, 1]),
      second,
    ]);
    const { offsets, counts } = found([stream]);
    expect(offsets).toEqual([stream.indexOf(first), stream.length - second.length]);
    expect(counts).toEqual({
      bytes: stream.length,
      good: 2,
      failed: 1,
      damaged: 0,
      bytesOutside: stream.length - first.length - second.length,
      repeated: 0,
      lineFeeds: 3,
      afterReturns: 3,
      isCut: false,
    });
  });

  it('takes a frame without content, which fills up', () => {
    expect(found([frameOf('')]).counts).toMatchObject({ good: 1, bytesOutside: 0 });
  });

  it('says that the last frame is cut, and looks for others in what is left of it', () => {
    const [first = new Uint8Array(), second = new Uint8Array()] = INVENTED;
    const { counts, offsets } = found([first, second.subarray(0, second.length - 1)]);
    expect(counts).toMatchObject({ good: 1, failed: 0, isCut: true });
    expect(offsets).toEqual([0]);
    // The head of a long frame, cut by one that is whole.
    const hidden = found([first, Uint8Array.of(0xd3, 0x03, 0xff), second]);
    expect(hidden.counts).toMatchObject({ good: 2, isCut: true });
  });

  it('refuses a frame of which any one byte is wrong, and counts it as damaged between good ones', () => {
    const random = seededRandom(24);
    for (const frame of INVENTED) {
      for (let at = 0; at < frame.length; at += 1) {
        const foul = frame.slice();
        foul[at] = (foul[at] ?? 0) ^ (1 + random.index(255));
        const { contents, counts } = found([frame, foul, frame]);
        expect(contents.length, `byte ${String(at)}`).toBe(2);
        // A wrong preamble or length does not end where the next frame begins.
        if (at > 2) expect(counts, `byte ${String(at)}`).toMatchObject({ good: 2, damaged: 1 });
      }
    }
  });

  it('finds the same in pieces of any size as in one', () => {
    const random = seededRandom(7);
    for (const name of ['a', 'b', 'c']) {
      const stream = readFileSync(`tests/data/streams/stream-${name}.rtcm3`);
      const whole = found([stream]);
      expect(found(pieces(stream, () => 1))).toEqual(whole);
      expect(found(pieces(stream, () => 1 + random.index(700)))).toEqual(whole);
    }
  });

  it('finds every frame that was put between random bytes, and reads 100,000 streams that were broken at random', () => {
    const random = seededRandom(1016);
    let frames = 0;
    for (let round = 0; round < 100_000; round += 1) {
      const noise = Uint8Array.from({ length: random.index(12) }, () =>
        random.index(4) === 0 ? 0xd3 : random.index(256),
      );
      const frame = INVENTED[random.index(INVENTED.length)] ?? new Uint8Array();
      const stream = Buffer.concat([noise, frame, noise]);
      const isBroken = random.index(2) === 0;
      if (isBroken) stream[random.index(stream.length)] = random.index(256);
      const reader = createFrameReader((content) => {
        frames += 1;
        readMessage(content);
      });
      reader.push(stream);
      reader.end();
      const { good, bytes, bytesOutside } = reader.counts();
      if (!isBroken && good !== 1) throw new Error(`round ${String(round)}: ${String(good)} frames`);
      if (bytes !== stream.length || bytesOutside < 0 || bytesOutside > bytes)
        throw new Error(`round ${String(round)}`);
    }
    expect(frames).toBeGreaterThan(50_000);
  }, 60_000);

  it('needs time in proportion to the bytes, at worst: heads of longest frames one after another', () => {
    const worst = new Uint8Array(300_000).map((_, index) => [0xd3, 0x03, 0xff][index % 3] ?? 0);
    const { counts } = found([worst]);
    expect(counts).toMatchObject({ good: 0, bytesOutside: worst.length });
    expect(counts.failed).toBeGreaterThan(99_000);
  });

  it('gives contents that live no longer than the call, from pieces that are used again', () => {
    const frame = frameOf(stationBits({ stationId: 5, xM: 1, yM: 2, zM: 3 }));
    const room = new Uint8Array(4);
    const contents: string[] = [];
    const reader = createFrameReader((content) => contents.push(Buffer.from(content).toString('hex')));
    for (const piece of pieces(frame, () => 4)) {
      room.set(piece);
      reader.push(room.subarray(0, piece.length));
    }
    expect(contents).toEqual([Buffer.from(frame.subarray(3, -3)).toString('hex')]);
  });
});
