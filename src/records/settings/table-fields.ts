/** How tables of fixes are written, where the options of the command line do not say. */
export const TABLE_FIELDS = {
  delimiter: { kind: 'text', meaning: 'one character between cells', byDefault: 'a comma' },
  decimal_mark: { kind: 'text', choices: ['.', ','], meaning: 'of numbers', default: '.' },
  encoding: {
    kind: 'text',
    choices: ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252', 'iso-8859-1'],
    meaning: 'of the bytes',
    byDefault: 'UTF-8, or by byte order mark',
  },
  comment: { kind: 'text', meaning: 'lines that start with this are left out', byDefault: 'none' },
  skip_lines: {
    kind: 'number',
    minimum: 0,
    maximum: 1e6,
    isWhole: true,
    meaning: 'lines before the header',
    default: 0,
  },
  rows_under_header: {
    kind: 'number',
    minimum: 0,
    maximum: 10,
    isWhole: true,
    meaning: 'rows beneath the header that are no data, such as one of units',
    default: 0,
  },
  solution: {
    kind: 'text',
    choices: ['fixed', 'float', 'differential', 'autonomous'],
    meaning: 'solution of rows that state none, where you know it of the logger',
    byDefault: 'none: such rows are refused',
  },
  columns_by: {
    kind: 'text',
    choices: ['header', 'position'],
    meaning: 'with `position` the file has no header, and `[columns]` counts from 1',
    default: 'header',
  },
} as const;
