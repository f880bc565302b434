import { basename, extname, resolve } from 'node:path';
import { createShiftGrid } from '../../core/frames/grids/shift-grid.js';
import type { ShiftGrid, ShiftGridFacts } from '../../core/frames/grids/shift-grid.js';
import { shiftGridTestWords } from '../../core/frames/grids/shift-grid-test-value.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import { ggxfRefusal } from '../../io/grids/ggxf-refusal.js';
import { readGridShift } from '../../io/grids/grid-shift-read.js';
import { readShift } from '../../io/settings/shift-read.js';
import type { ShiftFile } from '../../io/settings/shift-read.js';
import { readTextFile } from '../../io/text/text-file.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';

/** A grid of shifts ready for points, and what its file says of itself. */
export interface LoadedShiftGrid {
  readonly kind: 'grid';
  readonly grid: ShiftGrid;
  readonly facts: ShiftGridFacts;
  readonly name: string;
  readonly sha256: string;
  /** One of its nodes, in words. */
  readonly test: string | null;
}

/** What --shift or system.shift named, and the hash of the file for the record. */
export type LoadedShift =
  { readonly kind: 'file'; readonly file: ShiftFile; readonly name: string; readonly sha256: string } | LoadedShiftGrid;

/** Loads a shift file (TOML) or a grid of shifts (.gsb, .tif). Problems: those of its reader. */
export async function loadShiftFile(name: string, folder: string, reading: GridReading): Promise<Outcome<LoadedShift>> {
  const ggxf = ggxfRefusal(name, 'shifts', 'HORIZONTAL_OFFSET, GEOGRAPHIC_3D_OFFSET or GEOCENTRIC_TRANSLATION');
  if (ggxf !== null) return ggxf;
  const path = resolve(folder, name);
  if (['.gsb', '.tif', '.tiff'].includes(extname(name).toLowerCase())) {
    const file = await readGridShift(path, name, reading);
    if (!file.ok) return file;
    const { content, facts, sha256 } = file.value;
    const grid = createShiftGrid(content, facts.interpolation);
    return success(
      { kind: 'grid', grid, facts, name: basename(name), sha256, test: shiftGridTestWords(content) },
      file.problems,
    );
  }
  const text = await readTextFile(path, name);
  if (!text.ok) return text;
  const file = readShift(text.value.text, name);
  if (!file.ok) return file;
  return success({ kind: 'file', file: file.value, name: basename(name), sha256: text.value.sha256 }, file.problems);
}
