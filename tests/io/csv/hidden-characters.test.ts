import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createHiddenWatch } from '../../../src/io/csv/hidden-characters.js';
import { runInProcess } from '../../support/run-in-process.js';
import { tipSession } from '../../support/tip-session.js';

// Code points by the Unicode Character Database, general category Cf, from memory.
const DIRECTION = [0x061c, 0x200e, 0x200f, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e, 0x2066, 0x2067, 0x2068, 0x2069];
const WIDTHLESS = [0x200b, 0x200c, 0x200d, 0x2060, 0xfeff];
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-hidden-'));
  writeFileSync(join(folder, 's.toml'), tipSession());
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function codesOf(text: string): readonly string[] {
  const watch = createHiddenWatch();
  watch.look(text, () => ({ line: 1 }));
  return watch.take().map(({ message }) => message);
}

describe('characters that are not seen', () => {
  it.each([...DIRECTION, ...WIDTHLESS, 0xad])(
    'U+%s is found between two letters and is written as an escape',
    (code) => {
      const [message = ''] = codesOf(`A${String.fromCharCode(code)}1`);
      const hex = code.toString(16).padStart(4, '0');
      expect(message).toContain(`"A\\u${hex}1" holds U+${hex.toUpperCase()}, which`);
      expect(message).not.toContain(String.fromCharCode(code));
    },
  );

  it.each(['Punkt Öl', 'точка', '点', 'شاخص', 'P\u0301', 'A 1'])('nothing is said of %s', (text) => {
    expect(codesOf(text)).toEqual([]);
  });

  it.each(['id', 'code', 'note', 'a passing column'])(
    'are warned of in %s, once a kind, with the place',
    async (which) => {
      const cell = (name: string, index: number): string =>
        which === name && index > 0 ? `${name}\u200b${index > 1 ? '\u202e' : ''}` : name;
      const rows = [0, 1, 2, 3].map(
        (index) =>
          `${which === 'id' ? cell('id', index) : `P${index}`},2026-03-04T06:0${index}:00Z,-31.5,21.4,1000,fixed,${cell('code', index)},${cell('note', index)},${which.startsWith('a') ? `x${index > 0 ? '\u200b' : ''}${index > 1 ? '\u202e' : ''}` : 'x'}`,
      );
      const head = 'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,code,note,mine';
      writeFileSync(join(folder, 'f.csv'), [head, ...rows].join('\n'));
      for (const options of [[], ['--workers', '2']]) {
        const { exit, stderr } = await runInProcess(['reduce-points', 'f.csv', '--session', 's.toml', ...options], {
          cwd: folder,
        });
        expect(exit, stderr).toBe(0);
        const said = stderr.split('\n').filter((line) => line.includes('[value-hidden-character]'));
        const field = which === 'id' ? 1 : which === 'code' ? 7 : which === 'note' ? 8 : 9;
        expect(said).toEqual([
          expect.stringMatching(
            new RegExp(`^f\\.csv:3:${field}: \\w+: warning: .*holds U\\+200B, which has no width \\[`, 'u'),
          ),
          expect.stringMatching(
            new RegExp(
              `^f\\.csv:4:${field}: \\w+: warning: .*holds U\\+202E, which turns the direction of writing \\(2 hidden characters in this cell\\) \\[`,
              'u',
            ),
          ),
        ]);
      }
      const parts: string[] = [];
      for (const part of ['1:2', '3:3', '4:'])
        parts.push(
          (await runInProcess(['reduce-points', 'f.csv', '--session', 's.toml', '--rows', part], { cwd: folder }))
            .stderr,
        );
      expect(parts.map((text) => text.match(/\[value-hidden-character\]/gu)?.length ?? 0)).toEqual([1, 1, 0]);
    },
  );

  it('are warned of in points and control too', async () => {
    const points = ['point_id,easting_m,northing_m,orthometric_height_m', 'A\u00ad,500000,4000000,1', ''].join('\n');
    writeFileSync(join(folder, 'p.csv'), points);
    writeFileSync(join(folder, 'pairs.csv'), 'from_id,to_id\nA\u00ad,A\u00ad\n');
    for (const words of [
      ['transform', 'p.csv', '--from', 'EPSG:32633', '--to', 'EPSG:4326'],
      ['check-tolerances', 'p.csv', '--system', 'EPSG:32633', '--control', 'p.csv', '--limit-horizontal', '1'],
      ['join-points', 'p.csv', '--system', 'EPSG:32633', '--pairs', 'pairs.csv'],
    ]) {
      const { stderr } = await runInProcess(words, { cwd: folder });
      expect(stderr, words[0]).toContain('holds U+00AD, which is a hyphen that is not shown [value-hidden-character]');
    }
  });
});
