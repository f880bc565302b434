import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { Problem } from '../../../records/problem.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import type { BlockUse, ByteBlock } from '../../csv/csv-blocks.js';
import type { RejectedRow, TableHead } from '../columns/row-loop.js';
import type { TrustKept } from '../columns/trust-columns.js';
import type { CarriedRow } from '../row-bytes/carried-row-write.js';
import type { OtherPosition } from './other-position.js';
import type { PlaceKind } from './place-columns.js';
import type { PlainPlaceReader, PlainPlaces, PlaceRows } from './plain-places.js';
import type { AxisNames } from './point-row-columns.js';

export interface PlaceReadOptions {
  readonly kind: PlaceKind;
  /** Names of the grid columns; used with `projected`. */
  readonly axes: AxisNames | null;
  /** The height column the run cannot do without; null: none. */
  readonly needs: 'ellipsoidal' | 'orthometric' | null;
  readonly mapping: ColumnMapping;
  /** Which figures of trust still hold for the positions that are written. */
  readonly trust: TrustKept;
  /** With `geographic`: the grid pair that may stand beside latitude and longitude; null: none that could be compared. */
  readonly beside: AxisNames | null;
  /** Also left out, beside the columns that belong to the system the points come from. */
  readonly alsoLeftOut: readonly string[];
  /** Turns the place of a problem into the document's own, for GeoJSON. */
  readonly place?: (problem: Problem) => Problem;
}

/** Rows that follow each other in the file. */
export interface PlaceBlock {
  readonly rows: PlaceRows;
  /** Where the rows stay in their bytes: those of the row that was asked for last. */
  readonly carried: CarriedRow | null;
  readonly rejected: readonly RejectedRow[];
  /** Warnings that cost no row. */
  readonly warnings: readonly Problem[];
  /** Rows left out: points that the reduction rejected, which have no position. */
  readonly withoutPlace: number;
  /** A row of this block as it stands in the file, by its line. */
  readonly rawOf: (row: PlaceRow) => string;
  /** The other position of a row of this block: degrees beside a grid pair, or the pair of `beside` next to degrees. */
  readonly otherPositionOf: (row: PlaceRow) => OtherPosition | null;
}

export interface PlaceInput {
  /** Names of the columns that pass through, in the order of `PlaceRow.passThrough`. */
  readonly passThroughNames: readonly string[];
  /** Columns that were left out because they belong to the system the points come from. */
  readonly leftOut: readonly string[];
  /** Figures of trust that were left out because they do not hold for what is written. */
  readonly notTrusted: readonly string[];
  readonly hasEllipsoidal: boolean;
  readonly hasOrthometric: boolean;
  readonly headerRaw: string | null;
  /** Some rows may have a second position; see `PlaceBlock.otherPositionOf`. */
  readonly hasOther: boolean;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<PlaceBlock>>;
  /** The same in the bytes of the file, to be read in place of `blocks`; null where there are none, or none are plain. */
  readonly bytes: PlaceBytes | null;
}

/** Rows in the bytes of their file. */
export interface PlaceBytes {
  readonly head: TableHead;
  /** A failure is the last item. May be read once. */
  readonly byteBlocks: (use?: BlockUse) => AsyncGenerator<Outcome<ByteBlock>>;
  /** The rows of a block as they stay in its bytes. */
  readonly plainOf: PlainPlaceReader;
  /** The block with its rows located, given the number of its first. */
  readonly locate: (block: ByteBlock, firstRecord: number) => Outcome<CsvBlock>;
  /** The rows of a block: those that stay in its bytes, or where these are null, read with care. */
  readonly placesOf: (block: CsvBlock, plain: PlainPlaces | null) => Generator<PlaceBlock>;
  /** What is wrong with a file that has no rows. */
  readonly withoutRows: () => Outcome<never>;
}
