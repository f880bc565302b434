import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createFrameReader } from '../../../src/io/rtcm/frame-reader.js';
import { readMessage } from '../../../src/io/rtcm/read-message.js';
import { auditFindings } from '../../../src/tasks/corrections/audit-findings.js';
import { createCorrectionCount } from '../../../src/tasks/corrections/correction-audit.js';
import { seededRandom } from '../../support/seeded-random.js';

// Real streams (GPSD-TESTS), changed as recordings are on their way: the faults are planted here, the streams are others'.
const FOLDER = 'tests/data/streams';
const STREAMS = readdirSync(FOLDER).filter((name) => name.endsWith('.rtcm3'));
const bytesOf = (name: string): Uint8Array => readFileSync(`${FOLDER}/${name}`);

function findingsOf(bytes: Uint8Array): readonly string[] {
  const count = createCorrectionCount();
  count.begin();
  const reader = createFrameReader((content) => {
    count.add(readMessage(content), content.length);
  });
  // Pieces of a size that cuts frames, and pairs of return and line feed.
  for (let at = 0; at < bytes.length; at += 97) reader.push(bytes.subarray(at, at + 97));
  reader.end();
  count.end('stream', reader.counts());
  return auditFindings(count.result(null, WGS84)).map(({ code, message }) => `${code}: ${message}`);
}
const codesOf = (bytes: Uint8Array): ReadonlySet<string> =>
  new Set(findingsOf(bytes).map((text) => text.replace(/:.*/u, '')));

/** The frames of a stream, whole. */
function framesOf(bytes: Uint8Array): readonly Uint8Array[] {
  const frames: Uint8Array[] = [];
  const reader = createFrameReader((content, offset) => {
    frames.push(bytes.slice(offset, offset + content.length + 6));
  });
  reader.push(bytes);
  reader.end();
  return frames;
}

/** What a copy as text makes of it. */
function asText(bytes: Uint8Array): Uint8Array {
  return Uint8Array.from([...bytes].flatMap((byte) => (byte === 0x0a ? [0x0d, 0x0a] : [byte])));
}

describe('a recording that was changed on its way', () => {
  it.each(STREAMS)('is none of the real ones: %s', (name) => {
    const codes = codesOf(bytesOf(name));
    expect([...codes].filter((code) => ['stream-damaged', 'stream-repeated'].includes(code))).toEqual([]);
  });

  it.each(STREAMS)('is said to be copied as text where every line feed has a return before it: %s', (name) => {
    const bytes = bytesOf(name);
    const feeds = bytes.filter((byte) => byte === 0x0a).length;
    const said = findingsOf(asText(bytes)).filter((text) => text.startsWith('stream-damaged'));
    if (feeds >= 20) expect(said).toEqual([expect.stringMatching(/was copied as text/u)]);
    else expect(said.length).toBeLessThanOrEqual(1);
  });

  it.each(STREAMS)('is said to repeat itself where every frame stands twice: %s', (name) => {
    const twice = Buffer.concat(framesOf(bytesOf(name)).flatMap((frame) => [frame, frame]));
    expect(codesOf(twice)).toContain('stream-repeated');
  });

  it('is said to be changed where more frames fail than other bytes explain, and none of them ends where one begins', () => {
    // A byte more in each third frame: all that follows in it stands elsewhere.
    const frames = framesOf(bytesOf(STREAMS[0] ?? ''));
    const foul = frames.map((frame, at) =>
      at % 3 === 0 ? Buffer.concat([frame.subarray(0, 20), Uint8Array.of(7), frame.subarray(20)]) : frame,
    );
    expect(findingsOf(Buffer.concat(foul)).filter((text) => text.startsWith('stream-damaged'))).toEqual([
      expect.stringMatching(/places begin like a frame and fail their check/u),
    ]);
  });

  it('is not said to change for bytes of another kind between its frames', () => {
    const random = seededRandom(5);
    const other = (): Uint8Array => Uint8Array.from({ length: 400 }, () => Math.floor(256 * random.next()));
    const mixed = Buffer.concat(framesOf(bytesOf(STREAMS[0] ?? '')).flatMap((frame) => [frame, other()]));
    expect(codesOf(mixed)).not.toContain('stream-damaged');
  });
});

describe('a stream whose frames are lost', () => {
  it.each(STREAMS)('blames no clock and no second stream: %s', (name) => {
    const random = seededRandom(8);
    const frames = framesOf(bytesOf(name));
    const clean = codesOf(Buffer.concat(frames));
    for (let run = 0; run < 10; run += 1) {
      const left = frames.filter(() => random.next() > 0.4);
      const codes = codesOf(Buffer.concat(left));
      for (const code of ['stream-times-disagree', 'stream-time-back'])
        if (!clean.has(code)) expect([code, codes.has(code)]).toEqual([code, false]);
    }
  });
});
