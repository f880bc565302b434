/** One grid of an NTv2 file for tests; shifts in the file's own way: north and west positive, rows from south, columns from east. */
export interface Ntv2Fixture {
  readonly name: string;
  /** Limits and steps in seconds of arc, longitudes west positive. */
  readonly south: number;
  readonly north: number;
  readonly east: number;
  readonly west: number;
  readonly step: number;
  /** Latitude and longitude shift of each node. */
  readonly nodes: readonly (readonly [number, number])[];
}

/** The bytes of an NTv2 file. */
export function ntv2Bytes(grids: readonly Ntv2Fixture[], littleEndian = true, unit = 'SECONDS'): Buffer {
  const size = 176 + grids.reduce((sum, grid) => sum + 176 + 16 * grid.nodes.length, 0);
  const bytes = Buffer.alloc(size);
  const view = new DataView(bytes.buffer, bytes.byteOffset, size);
  const word = (at: number, text: string): void => {
    bytes.write(text.padEnd(8), at, 'latin1');
  };
  word(0, 'NUM_OREC');
  view.setInt32(8, 11, littleEndian);
  view.setInt32(24, 11, littleEndian);
  view.setInt32(40, grids.length, littleEndian);
  word(56, unit);
  word(88, 'OLD');
  word(104, 'NEW');
  let at = 176;
  for (const grid of grids) {
    word(at + 8, grid.name);
    word(at + 24, 'NONE');
    const limits = [grid.south, grid.north, grid.east, grid.west, grid.step, grid.step];
    [72, 88, 104, 120, 136, 152].forEach((offset, index) => {
      view.setFloat64(at + offset, limits[index] ?? 0, littleEndian);
    });
    view.setInt32(at + 168, grid.nodes.length, littleEndian);
    at += 176;
    for (const [latitude, longitude] of grid.nodes) {
      view.setFloat32(at, latitude, littleEndian);
      view.setFloat32(at + 4, longitude, littleEndian);
      at += 16;
    }
  }
  return bytes;
}

/** A grid of 3 by 3 nodes, 1 degree apart, from 30 to 28 south and 20 to 22 east, with the same shift everywhere. */
export function evenGrid(latitude: number, longitude: number, name = 'EVEN'): Ntv2Fixture {
  return {
    name,
    south: -30 * 3600,
    north: -28 * 3600,
    east: -22 * 3600,
    west: -20 * 3600,
    step: 3600,
    nodes: Array.from({ length: 9 }, () => [latitude, longitude] as const),
  };
}
