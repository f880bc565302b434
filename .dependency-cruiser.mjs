// Layer rules: bin -> cli -> files -> (io, tasks), report -> core -> records. ESLint checks the same in the
// editor; this check follows the files themselves, so that a re-export or a renamed path cannot hide one.

/** A package that is imported, other than as types, by the files named only, so that it can be replaced. */
const behind = (name, files, reason) => ({
  name: `one-importer-${name}`,
  severity: 'error',
  comment: `${name} sits behind ${files}: ${reason}`,
  from: { path: '^(src|bin)/', pathNot: `^(${files.replaceAll('.', '\\.').replaceAll(' and ', '|')})$` },
  to: { path: `(^|/)node_modules/${name}(/|$)`, dependencyTypesNot: ['type-only'] },
});

/** One layer may not reach the others named. */
const apart = (from, to, comment) => ({
  name: `${from}-not-to-${to.join('-')}`,
  severity: 'error',
  comment,
  from: { path: `^src/${from}/` },
  to: { path: `^(src/(${to.join('|')})|bin)/` },
});

export default {
  forbidden: [
    {
      name: 'bin-to-cli-only',
      severity: 'error',
      comment: 'The executable does nothing but start the command line.',
      from: { path: '^bin/' },
      to: { pathNot: '(^|/)(src/cli|dist/program)/main\\.(ts|js)$' },
    },
    apart(
      'records',
      ['core', 'io', 'report', 'tasks', 'files', 'cli'],
      'Records are types that every layer shares; they know none of them.',
    ),
    apart(
      'core',
      ['io', 'report', 'tasks', 'files', 'cli'],
      'Core is mathematics; it knows neither files nor commands.',
    ),
    apart(
      'tasks',
      ['io', 'report', 'files', 'cli'],
      'A task is a pure pipeline over core; cli hands it rows and writes what comes back.',
    ),
    apart('report', ['io', 'tasks', 'files', 'cli'], 'A report is text made from records; cli writes it.'),
    apart('io', ['report', 'tasks', 'files', 'cli'], 'io reads and writes bytes; files and cli decide which.'),
    apart(
      'files',
      ['report', 'cli'],
      'What opens a survey by the names of its files serves programs too, and knows no terminal.',
    ),
    {
      name: 'core-is-closed',
      severity: 'error',
      comment: 'Core uses no part of Node and no package but the geodesic and projection libraries.',
      from: { path: '^src/(core|records)/' },
      to: {
        dependencyTypes: ['core', 'npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown'],
        pathNot: 'node_modules/(geographiclib-geodesic|proj4)(/|$)',
      },
    },
    {
      name: 'pure-layers-are-closed',
      severity: 'error',
      comment: 'Tasks and reports take records and give records or text: no Node, and no packages but those that draw.',
      from: { path: '^src/(tasks|report)/' },
      to: {
        dependencyTypes: ['core', 'npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown'],
        pathNot: 'node_modules/(@types/)?d3-(array|geo|scale|shape)(/|$)',
      },
    },
    {
      name: 'restrict-fs-access',
      severity: 'error',
      comment: 'Files are opened in io, where an output that is an input is refused and nothing is half-written.',
      from: { path: '^src/', pathNot: '^src/io/' },
      to: { path: '^(node:)?fs(/promises)?$', dependencyTypes: ['core'] },
    },
    {
      name: 'no-network',
      severity: 'error',
      comment: 'Pegbook never uses the network.',
      from: { path: '^(src|bin)/' },
      to: { path: '^(node:)?(http|https|http2|net|tls|dgram|dns)(/promises)?$', dependencyTypes: ['core'] },
    },
    behind(
      'proj4',
      'src/core/projection/map-projection.ts and src/core/grid/plane/grid-shift.ts',
      'it accepts misspelt parameters and answers with plausible numbers; projections and grids of shifts are two uses of it with nothing in common.',
    ),
    behind('geographiclib-geodesic', 'src/core/ellipsoid/geodesic.ts', 'it answers NaN to bad input.'),
    behind(
      'commander',
      'src/cli/shell/program.ts and src/cli/main.ts',
      'exit codes and help are ours; other files of cli use its types only.',
    ),
    behind('csv-parse', 'src/io/csv/csv-rows.ts', 'its defaults lose duplicate headers and row positions.'),
    behind('csv-stringify', 'src/io/csv/csv-write.ts', 'its defaults change numbers and dates.'),
    behind('smol-toml', 'src/io/settings/toml/toml-table.ts', 'its errors become located problems there.'),
    behind('geotiff', 'src/io/grids/tiff/geotiff-grid-read.ts', 'it is loaded only when such a grid is read.'),
    behind('epsg-index', 'src/io/host/system-registry.ts', 'one small file of it is read per system.'),
    behind('d3-scale', 'src/report/figures/scales.ts', 'scales and round ticks of figures.'),
    behind(
      'hyparquet',
      'src/io/parquet/parquet-read.ts',
      'users install it; decimals and times are taken as they are stored.',
    ),
    behind('hyparquet-writer', 'src/io/parquet/parquet-write.ts', 'users install it.'),
    behind('d3-shape', 'src/report/figures/shapes.ts', 'paths and symbols of figures.'),
    {
      name: 'no-circular',
      severity: 'error',
      comment:
        'Two files that need each other are one idea in two places. Types, and files loaded when a command runs, may point back.',
      from: { path: '^src/' },
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only', 'dynamic-import'] } },
    },
    {
      name: 'no-orphans',
      severity: 'error',
      comment: 'A file that nothing imports and that imports nothing is left over.',
      from: { orphan: true, path: '^src/', pathNot: '^src/(index|files|cli/main)\\.ts$' },
      to: {},
    },
    {
      name: 'not-to-unresolvable',
      severity: 'error',
      comment: 'An import that leads nowhere fails at run time.',
      from: { path: '^(src|tests|tools)/' },
      to: { couldNotResolve: true },
    },
    {
      name: 'not-to-dev-dependency',
      severity: 'error',
      comment:
        'What ships may not need a package that only developers install; hyparquet is installed by users who want Parquet, and asked for late.',
      from: { path: '^(src|bin)/' },
      to: {
        dependencyTypes: ['npm-dev'],
        dependencyTypesNot: ['type-only'],
        pathNot: 'node_modules/(@types/|hyparquet(-writer)?/)',
      },
    },
    {
      name: 'not-to-tests',
      severity: 'error',
      comment: 'What ships may not import a test or a tool.',
      from: { path: '^(src|bin)/' },
      to: { path: '^(tests|tools)/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^dist/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default', 'types'] },
  },
};
