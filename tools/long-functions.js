/**
 * Files with a function of more than 60 lines, and how long the longest may be: it may shrink and not grow. Blank lines and
 * comments are not counted. A function that is new, or in a file that is not listed, has 60.
 */
export const LONG_FUNCTIONS = [
  // What is worked out once stands around what runs for each point or epoch, and shares it without a record made for each call;
  // they are on the hot path, and split they would hand on a dozen numbers.
  ...[
    ['src/core/ellipsoid/short-distances.ts', 65],
    ['src/core/ellipsoid/short-geodesic.ts', 73],
    ['src/core/projection/methods/transverse-mercator.ts', 221],
    ['src/io/tables/columns/row-loop.ts', 70],
    ['src/io/tables/columns/cells/value-takers.ts', 74],
  ],
  // A maker whose functions share what it keeps: a state of a few variables and, function by function, what is done with it.
  ...[
    ['src/cli/shell/run/run-log.ts', 97],
    ['src/cli/shell/workbench.ts', 120],
    ['src/core/grid/systems/grid-conversions.ts', 66],
    ['src/io/bytes/output/sink.ts', 106],
    ['src/io/bytes/source.ts', 119],
    ['src/io/bytes/output/spool.ts', 91],
    ['src/io/csv/cell-read.ts', 197],
    ['src/io/csv/csv-blocks.ts', 70],
    ['src/io/csv/plain-cell-read.ts', 74],
    ['src/io/geojson/shape-positions.ts', 77],
    ['src/io/nmea/nmea-notes.ts', 90],
    ['src/io/nmea/nmea-read.ts', 192],
    ['src/io/nmea/nmea-scan.ts', 64],
    ['src/io/settings/toml/toml-table.ts', 72],
    ['src/io/tables/points/place-rows-read.ts', 70],
    ['src/io/tables/row-bytes/row-bytes-write.ts', 126],
    ['src/io/tables/points/point-row-read.ts', 64],
    ['src/tasks/reduce/reduce-points.ts', 131],
    ['src/tasks/reduce/totals/reduction-totals.ts', 147],
    ['src/tasks/repeats/stand-records.ts', 67],
  ],
  // Not yet split: one step after another, which a reader would rather have by name.
  ...[
    ['src/core/quality/cause/form-search.ts', 69],
    ['src/io/grids/ntv2-read.ts', 73],
    ['src/report/figures/drawings/xy-drawing.ts', 67],
    ['src/tasks/check/compare/check-tolerances-design.ts', 72],
    ['src/tasks/check/judge/check-tolerances-standard.ts', 64],
  ],
];
