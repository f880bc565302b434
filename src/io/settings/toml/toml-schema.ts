/** A setting: what it may hold, and what it means. The reader, the error texts and the documentation come from it. */
export type TomlField = {
  readonly meaning: string;
  readonly isRequired?: boolean;
  /** The value that counts where nothing is given, and what is said of it. */
  readonly default?: number | string | readonly string[];
  readonly remark?: string;
  /** Without a default: in words, what happens where nothing is given. */
  readonly byDefault?: string;
} & (
  | { readonly kind: 'text'; readonly choices?: readonly string[] }
  | { readonly kind: 'words'; readonly choices: readonly string[] }
  | {
      readonly kind: 'number';
      readonly minimum?: number;
      readonly maximum?: number;
      readonly isWhole?: boolean;
    }
  | { readonly kind: 'time' }
  | { readonly kind: 'date' }
  | { readonly kind: 'list' }
  | { readonly kind: 'texts' }
  /** One text, or two. */
  | { readonly kind: 'names' }
  /** Names, each with a text or with a table of these settings. */
  | { readonly kind: 'readings'; readonly fields: TomlSchema }
  | { readonly kind: 'table'; readonly fields: TomlSchema }
  | { readonly kind: 'tables'; readonly fields: TomlSchema }
);

/** The settings of one table. */
export interface TomlSchema {
  readonly named: Readonly<Record<string, TomlField>>;
  /** Keys that are not listed but follow a pattern, such as the axis names of any grid. */
  readonly others?: { readonly match: RegExp; readonly shown: string; readonly field: TomlField };
}

/** The field of a key, or null where the table has none. */
export function tomlField(schema: TomlSchema, key: string): TomlField | null {
  if (Object.hasOwn(schema.named, key)) return schema.named[key] ?? null;
  return schema.others?.match.test(key) === true ? schema.others.field : null;
}

/** What a field wants, in words: `a number from 0 to 90`, `one of rss, linear`. */
export function tomlExpectation(field: TomlField): string {
  switch (field.kind) {
    case 'text':
      return field.choices === undefined
        ? 'a text in quotes'
        : `one of ${field.choices.map((word) => `"${word}"`).join(', ')}`;
    case 'words':
      return `a list of ${field.choices.map((word) => `"${word}"`).join(', ')}`;
    case 'number':
      return numberExpectation(field.isWhole === true ? 'a whole number' : 'a number', field.minimum, field.maximum);
    case 'time':
      return 'a time in UTC such as 2026-03-04T06:00:00Z';
    case 'date':
      return 'a day such as 2026-03-04';
    case 'list':
      return 'a list of texts in quotes';
    case 'texts':
      return 'names with texts';
    case 'names':
      return 'a text in quotes, or a list of two';
    case 'readings':
      return 'names with texts or tables';
    case 'table':
      return 'a table';
    case 'tables':
      return 'a list of tables';
  }
}

function numberExpectation(what: string, minimum: number | undefined, maximum: number | undefined): string {
  if (minimum !== undefined && maximum !== undefined) return `${what} from ${String(minimum)} to ${String(maximum)}`;
  if (minimum !== undefined) return `${what} of at least ${String(minimum)}`;
  return maximum === undefined ? what : `${what} of at most ${String(maximum)}`;
}
