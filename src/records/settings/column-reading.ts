// How a column of ours stands in a file that somebody else writes: its header, and the unit, the words or the form of
// time of its cells. Plain data: it may be sent to another thread, and stands in the run record.

/** What the members of a reading may hold, and what they mean; the reader and the page of file formats come from here. */
export const READING_FIELDS = {
  header: {
    kind: 'names',
    isRequired: true,
    meaning:
      'the header in the file; of two headers the cells are read together, a space between: date and time, an angle and its letter, week and seconds',
  },
  unit: {
    kind: 'text',
    choices: ['m', 'cm', 'mm', 'ft', 'usft', 'deg', 'gon', 'rad', 'dms'],
    meaning:
      'unit of the cells: a length, or an angle. `ft` is the international foot, `usft` the US survey foot, `dms` degrees, minutes and seconds; with `form` also run together',
    byDefault: 'the unit that the name ends in',
  },
  words: {
    kind: 'texts',
    meaning: 'words of the file = words of ours; beside those that are read anyway',
    byDefault: 'none',
  },
  form: {
    kind: 'text',
    meaning:
      'form of a time: `YYYY` `YY` `MM` `M` `MMM` `DD` `D` `DDD` `HH` `H` `hh` `h` `mm` `ss` `A` `Z` with what stands between, or `unix-seconds`, `unix-milliseconds`, `gps-week-seconds`; of an angle in `dms`: `DDMMSS`, `DDMM`, `D.MMSS`',
    byDefault: 'ISO 8601; degrees, minutes and seconds set apart',
  },
  zone: {
    kind: 'text',
    meaning: 'zone of times that do not state it, such as `+02:00`; `Z` is UTC',
    byDefault: 'as the cells state it',
  },
  scale: {
    kind: 'text',
    choices: ['utc', 'gps'],
    meaning: 'scale of the times; `gps` needs `leap_seconds`',
    default: 'utc',
  },
  leap_seconds: {
    kind: 'number',
    minimum: 0,
    maximum: 100,
    isWhole: true,
    meaning: 'GPS time minus UTC, seconds; with `scale = "gps"`',
    byDefault: 'none',
  },
  means: {
    kind: 'text',
    choices: ['per-axis', 'drms', '95'],
    meaning:
      'what one figure for both horizontal axes is: one sigma of each axis; the root of the sum of their squares (distance root mean square); the radius of the 95 % circle',
    byDefault: 'none; needed with `sigma_horizontal_m`',
  },
} as const;

/** Units that cells may be said to be in: lengths, then angles. `ft` is the international foot, `usft` the US survey foot. */
export type FileUnit = (typeof READING_FIELDS)['unit']['choices'][number];

/** A column of a file with what its cells are written in. Absent: as our own files are. */
export interface ColumnReading {
  /** One header (or position), or two whose cells are read together. */
  readonly headers: readonly [string] | readonly [string, string];
  readonly unit?: FileUnit;
  /** Words of the file to words of ours. */
  readonly words?: Readonly<Record<string, string>>;
  readonly form?: string;
  readonly zone?: string;
  readonly scale?: 'utc' | 'gps';
  readonly leapSeconds?: number;
  readonly means?: 'per-axis' | 'drms' | '95';
}

/** Our name of a column to the header (or position) in the file, or to a header with more. */
export type ColumnMapping = Readonly<Record<string, string | ColumnReading>>;

/** The headers that a column is read from. */
export function mappedHeaders(source: string | ColumnReading): readonly [string] | readonly [string, string] {
  return typeof source === 'string' ? [source] : source.headers;
}

/** A reading in one line of text: as in a session file. */
export function readingText(source: string | ColumnReading): string {
  if (typeof source === 'string') return source;
  const { headers, leapSeconds, words, ...plain } = source;
  const quoted = JSON.stringify;
  const parts = [
    `header = ${headers.length === 1 ? quoted(headers[0]) : `[${headers.map((name) => quoted(name)).join(', ')}]`}`,
    ...Object.entries(plain).map(([key, value]) => `${key} = ${quoted(value)}`),
    ...(leapSeconds === undefined ? [] : [`leap_seconds = ${String(leapSeconds)}`]),
    ...(words === undefined
      ? []
      : [
          `words = { ${Object.entries(words)
            .map(([theirs, ours]) => `${quoted(theirs)} = ${quoted(ours)}`)
            .join(', ')} }`,
        ]),
  ];
  return `{ ${parts.join(', ')} }`;
}
