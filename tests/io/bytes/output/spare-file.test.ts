import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createSpareFile } from '../../../../src/io/bytes/output/spare-file.js';

function inFolder(look: (folder: string) => void): void {
  const folder = mkdtempSync(join(tmpdir(), 'spare-'));
  try {
    look(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe('a spare file', () => {
  it('gives back what was laid by at each place, in any order, and leaves no name behind', () => {
    inFolder((folder) => {
      const spare = createSpareFile(folder);
      const pieces = [1, 300_000, 0, 7].map((length, piece) =>
        Uint8Array.from({ length }, (_, index) => (index * 31 + piece) % 251),
      );
      const places = pieces.map((bytes) => spare.put(bytes));
      expect(places).toEqual([0, 1, 300_001, 300_001]);
      if (process.platform !== 'win32') expect(readdirSync(folder)).toEqual([]);
      for (const index of [3, 1, 0, 2, 1]) {
        const into = new Uint8Array((pieces[index] as Uint8Array).length);
        spare.get(places[index] as number, into);
        expect(into).toEqual(pieces[index]);
      }
      expect(() => {
        spare.get(300_001, new Uint8Array(8));
      }).toThrow('beyond what was laid by');
      spare.close();
      expect(readdirSync(folder)).toEqual([]);
      expect(spare.put(new Uint8Array(1))).toBeNull();
    });
  });

  it('has no room where the folder takes no file, and says so instead of failing', () => {
    inFolder((folder) => {
      const spare = createSpareFile(join(folder, 'nowhere'));
      expect(spare.put(new Uint8Array(1))).toBeNull();
      expect(spare.put(new Uint8Array(1))).toBeNull();
      spare.close();
    });
  });
});
