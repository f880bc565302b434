// Lint rules. A rule is an error or off: warnings do not exist. Every rule that is switched on or off
// away from the shared sets carries its reason. The layers are checked here for speed in the editor
// and once more by .dependency-cruiser.mjs; tests/layers.test.ts expects both to catch a planted import.
import regexp from 'eslint-plugin-regexp';
import tseslint from 'typescript-eslint';

import { absentIsNull } from './tools/eslint-absent.js';
import { docComment } from './tools/eslint-doc-comment.js';
import { looseNumber } from './tools/eslint-loose-number.js';
import { unboundedSpread } from './tools/eslint-unbounded-spread.js';
import { LONG_FUNCTIONS } from './tools/long-functions.js';

/** No function longer than so many lines that say something. */
const longest = (max) => ({
  'max-lines-per-function': ['error', { max, skipBlankLines: true, skipComments: true }],
});

/** Importing one of the named layers from where it may not be. */
const layer = (names, message) => ({ regex: `^(\\.\\./)+(src/)?(${names})/`, message: `layers: ${message}` });

/** Anything but a relative path, bar the packages named. */
const packages = (allowed, message) => ({
  regex: allowed.length === 0 ? '^[^.]' : `^(?!(${allowed.join('|')})$)[^.]`,
  message: `closed: ${message}`,
});

const restrictedImports = (...patterns) => ({ 'no-restricted-imports': ['error', { patterns }] });

// Text becomes a number, and a number text, in a few files of core/numeric, because Number('') is 0,
// parseFloat('12,5') is 12 and (1.005).toFixed(2) is '1.00'. Number(text) has a rule of its own,
// pegbook/loose-number, which knows types.
const NUMBERS = [
  { selector: 'CallExpression[callee.name=/^parse(Float|Int)$/]', message: 'numbers: read text with parseDecimal' },
  {
    selector: "MemberExpression[object.name='Number'][property.name=/^parse(Float|Int)$/]",
    message: 'numbers: read text with parseDecimal',
  },
  {
    selector: 'MemberExpression[property.name=/^to(Fixed|Precision|Exponential)$/]',
    message: 'numbers: write with formatFixed',
  },
];

const SHAPES = [
  {
    selector: 'ExportDefaultDeclaration',
    message: 'shapes: named exports only, so that a name means one thing everywhere',
  },
  { selector: 'TSEnumDeclaration', message: 'shapes: a union of words instead of an enum' },
  {
    selector: 'ClassDeclaration:not([superClass.name=/Error$/])',
    message: 'shapes: records and functions; classes only for Error types',
  },
  { selector: 'ClassExpression', message: 'shapes: records and functions; classes only for Error types' },
  {
    selector: 'MemberExpression[property.name=/^toLocale/]',
    message: 'deterministic: output must not depend on the locale',
  },
  {
    selector: "MemberExpression[object.name='Math'][property.name='random']",
    message: 'deterministic: the same input gives the same bytes',
  },
];

const PURE = [
  {
    selector: "ThrowStatement:not(:has(> NewExpression[callee.name='InternalError']))",
    message: 'pure: bad user data is a Problem; only InternalError is thrown',
  },
  {
    selector: ":matches(Program, Program > ExportNamedDeclaration) > VariableDeclaration[kind!='const']",
    message: 'pure: no state at module level; make it in a factory function',
  },
  {
    selector:
      ':matches(Program, Program > ExportNamedDeclaration) > VariableDeclaration > VariableDeclarator > NewExpression[callee.name=/^(Weak)?(Map|Set)$/][arguments.length=0]',
    message: 'pure: no cache at module level; make it in a factory function',
  },
];

const restrictedSyntax = (...lists) => ({ 'no-restricted-syntax': ['error', ...lists.flat()] });

const globals = (names, message) => ({
  'no-restricted-globals': ['error', ...names.map((name) => ({ name, message }))],
});

const CLOCKS = [
  'Date',
  'Intl',
  'performance',
  'setTimeout',
  'setInterval',
  'setImmediate',
  'queueMicrotask',
  'fetch',
  'globalThis',
];
const PURE_GLOBALS = globals(
  ['console', 'process', 'Buffer', ...CLOCKS],
  'pure: numbers and records in, records out; no clock, terminal or locale',
);

const CORE_IMPORTS = (allowed) =>
  restrictedImports(
    packages(
      allowed,
      'core is pure mathematics; geographiclib-geodesic belongs to core/ellipsoid/geodesic.ts and proj4 to core/projection/map-projection.ts and core/grid/plane/grid-shift.ts',
    ),
    layer('cli|files|io|report|tasks', 'core may import core and records only'),
  );

export default tseslint.config(
  // Not ours to lint: what others wrote, what a tool wrote.
  { ignores: ['dist/**', 'node_modules/**', 'coverage/**', 'bench-out/**', 'tests/cases/**'] },
  // A disabling comment that disables nothing hides the next mistake.
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },

  {
    files: ['**/*.ts'],
    extends: [
      tseslint.configs.strictTypeChecked,
      tseslint.configs.stylisticTypeChecked,
      regexp.configs['flat/recommended'],
    ],
    languageOptions: { parserOptions: { projectService: true } },
    rules: {
      // A word added to a union must be met in every switch over it.
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      // verbatimModuleSyntax wants types imported as types; a lazily loaded package needs this to stay lazy.
      '@typescript-eslint/consistent-type-imports': [
        'error',
        { fixStyle: 'inline-type-imports', disallowTypeAnnotations: false },
      ],
      // A number in a message reads the same on every system; objects and undefined do not.
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      // A callback of one expression may return nothing by way of another.
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      // A name that starts with _ says that it is unused on purpose.
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      // == with null is the one comparison that meets null and undefined at once.
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      // Off: under noUncheckedIndexedAccess every read of an array inside its bounds would need a check
      // that cannot fail, in loops that run a million times.
      '@typescript-eslint/no-non-null-assertion': 'off',
      // Off: `as number` and `!` say the same after an indexed read; either may be written.
      '@typescript-eslint/non-nullable-type-assertion-style': 'off',
      // Off: indexed loops over typed arrays are the plain form in numerical code.
      '@typescript-eslint/prefer-for-of': 'off',
      // Off: an async function without await still turns a throw into a rejection, which interfaces rely on.
      '@typescript-eslint/require-await': 'off',
      // Off: it asks for as const and satisfies where a written-out type reads better with isolatedDeclarations.
      '@typescript-eslint/no-inferrable-types': 'off',
      // Off: types cannot see what a file, a package without types or a caller in plain JavaScript hands over.
      '@typescript-eslint/no-unnecessary-condition': 'off',
      // Off: a type parameter used once documents what comes back.
      '@typescript-eslint/no-unnecessary-type-parameters': 'off',
      // Off: empty text is "absent" in most cells, so || with text is meant as often as ??.
      '@typescript-eslint/prefer-nullish-coalescing': 'off',
      // Off: control characters are exactly what file readers and identifier checks look for.
      'no-control-regex': 'off',
      // Off: [0-9] says what is accepted; \d needs the reader to remember flags.
      'regexp/prefer-d': 'off',
      'regexp/use-ignore-case': 'off',
      'regexp/prefer-w': 'off',
    },
  },

  {
    files: ['src/**/*.ts'],
    plugins: {
      pegbook: {
        rules: {
          'absent-is-null': absentIsNull,
          'doc-comment': docComment,
          'loose-number': looseNumber,
          'unbounded-spread': unboundedSpread,
        },
      },
    },
    rules: {
      'pegbook/absent-is-null': 'error',
      'pegbook/loose-number': 'error',
      'pegbook/unbounded-spread': 'error',
      ...restrictedSyntax(NUMBERS, SHAPES),
      // One idea a file; comments may be as long as the formulas need.
      'max-lines': ['error', { max: 250, skipBlankLines: true, skipComments: true }],
      // What is longer is listed in tools/long-functions.js, with why.
      ...longest(60),
      // Data goes to stdout and messages to stderr through the injected streams.
      'no-console': 'error',
    },
  },

  // Tables of data, one entry after another: split, they would be harder to look through.
  {
    files: [
      'src/core/frames/operations/operation-table-*.ts',
      'src/io/settings/session-schema.ts',
      'src/io/tables/points/point-columns.ts',
    ],
    rules: { 'max-lines': 'off' },
  },

  ...LONG_FUNCTIONS.map(([file, max]) => ({ files: [file], rules: longest(max) })),

  // records: shared types, no behaviour, no imports but each other.
  {
    files: ['src/records/**/*.ts'],
    rules: {
      ...restrictedImports(
        packages([], 'records are plain types'),
        layer('cli|core|files|io|report|tasks', 'records import records only'),
      ),
      ...restrictedSyntax(NUMBERS, SHAPES, PURE),
      ...PURE_GLOBALS,
    },
  },

  // core: pure mathematics.
  {
    files: ['src/core/**/*.ts'],
    rules: {
      ...CORE_IMPORTS([]),
      ...restrictedSyntax(NUMBERS, SHAPES, PURE),
      ...PURE_GLOBALS,
    },
  },
  { files: ['src/core/ellipsoid/geodesic.ts'], rules: CORE_IMPORTS(['geographiclib-geodesic']) },
  {
    files: ['src/core/projection/map-projection.ts', 'src/core/grid/plane/grid-shift.ts'],
    rules: CORE_IMPORTS(['proj4']),
  },
  // The files that turn text into numbers and back are where Number and toFixed may stand: they look
  // at every character first.
  {
    files: ['src/core/numeric/text/{decimal-text,format-fixed,parse-utc}.ts'],
    rules: { ...restrictedSyntax(SHAPES, PURE), 'pegbook/loose-number': 'off' },
  },

  // tasks and report: pure pipelines over core; files and terminals belong to io and cli.
  {
    files: ['src/tasks/**/*.ts'],
    rules: {
      ...restrictedImports(
        packages([], 'tasks are pure pipelines over core'),
        layer('cli|files|io|report', 'tasks may import core and records only'),
      ),
      ...restrictedSyntax(NUMBERS, SHAPES, PURE),
      ...PURE_GLOBALS,
    },
  },
  {
    files: ['src/report/**/*.ts'],
    rules: {
      ...restrictedImports(
        packages(
          ['d3-scale', 'd3-shape'],
          'reports are text made from records; the packages for scales and paths sit behind one file each',
        ),
        layer('cli|files|io|tasks', 'report may import core and records only'),
      ),
      ...restrictedSyntax(NUMBERS, SHAPES, PURE),
      ...PURE_GLOBALS,
    },
  },

  // io: all files and bytes, none of the terminal.
  {
    files: ['src/io/**/*.ts'],
    rules: {
      ...restrictedImports(layer('cli|files|report|tasks', 'io may import core and records only'), {
        regex: '^(commander|proj4|geographiclib-geodesic)$',
        message: 'closed: that package sits behind a file of another layer',
      }),
      ...globals(
        ['console', 'process', 'performance', 'Intl', 'fetch'],
        'io gets its streams from the caller, and never the network',
      ),
      // Off: what a stream failed with is of no known type, and is thrown on as it came.
      '@typescript-eslint/only-throw-error': 'off',
    },
  },

  // files: a survey by the names of its files, for the commands and for programs of others.
  {
    files: ['src/files/**/*.ts'],
    rules: {
      ...restrictedImports(layer('cli|report', 'files may import core, io, records and tasks only'), {
        regex: '^(csv-parse|csv-stringify|geotiff|epsg-index|proj4|geographiclib-geodesic|smol-toml|commander)(/|$)',
        message: 'closed: that package sits behind one file of another layer',
      }),
      ...globals(['console', 'Intl', 'fetch'], 'problems are returned; nothing is said'),
    },
  },

  // cli: joins the layers. Only main.ts knows the real console; nothing but bin knows the real process.
  {
    files: ['src/cli/**/*.ts'],
    rules: {
      ...restrictedImports({
        regex: '^(csv-parse|csv-stringify|geotiff|epsg-index|proj4|geographiclib-geodesic|smol-toml)(/|$)',
        message: 'closed: that package sits behind one file of io or core',
      }),
      ...globals(['process', 'console', 'Intl', 'fetch'], 'streams, environment and clock come from the context'),
    },
  },
  { files: ['src/cli/main.ts'], rules: { 'no-restricted-globals': 'off', 'no-console': 'off' } },

  // Every exported function of the mathematics says what it is for.
  {
    files: ['src/core/**/*.ts'],
    rules: { 'pegbook/doc-comment': 'error' },
  },

  // Tests and tools: the same care with types; they may read numbers and write to the terminal.
  {
    files: ['tests/**/*.ts', 'tools/**/*.ts', 'examples/**/*.ts', '*.ts'],
    rules: {
      // Off: expected values are typed by the table that holds them; a wrong one fails the test.
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-argument': 'off',
    },
  },
  // Plain JavaScript has no types to check; only the shared recommendations apply.
  {
    files: ['**/*.js', '**/*.mjs'],
    extends: [tseslint.configs.recommended, regexp.configs['flat/recommended']],
  },
);
