/** A GTX grid for tests. `rows` run from south to north, each from west to east; null is no data. */
export interface GtxFixture {
  readonly southDeg: number;
  readonly westDeg: number;
  readonly latitudeStepDeg: number;
  readonly longitudeStepDeg: number;
  readonly rows: readonly (readonly (number | null)[])[];
}

/** The bytes of a GTX file. */
export function gtxBytes(fixture: GtxFixture): Buffer {
  const rows = fixture.rows.length;
  const columns = fixture.rows[0]?.length ?? 0;
  const bytes = Buffer.alloc(40 + 4 * rows * columns);
  bytes.writeDoubleBE(fixture.southDeg, 0);
  bytes.writeDoubleBE(fixture.westDeg, 8);
  bytes.writeDoubleBE(fixture.latitudeStepDeg, 16);
  bytes.writeDoubleBE(fixture.longitudeStepDeg, 24);
  bytes.writeInt32BE(rows, 32);
  bytes.writeInt32BE(columns, 36);
  fixture.rows.flat().forEach((value, index) => bytes.writeFloatBE(value ?? -88.8888, 40 + 4 * index));
  return bytes;
}
