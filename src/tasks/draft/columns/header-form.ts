/** A header in small letters without accents, its words apart and its unit set aside. */
export interface HeaderForm {
  /** The words without the unit, single spaces between. */
  readonly phrase: string;
  readonly words: readonly string[];
  /** What stands in brackets, or a last word that only is a unit; empty: none. */
  readonly unit: string;
}

const BRACKETS = /[([{<](?<inside>[^([{<)\]}>]*)[)\]}>]/u;
const UNIT_WORDS: ReadonlySet<string> = new Set([
  ...['m', 'mm', 'cm', 'ft', 'feet', 'usft', 'ftus', 'sft', 'ift', 'deg', 'gon', 'grad', 'rad', 'dms', 'gms'],
  ...[
    'meter',
    'metre',
    'metres',
    'meters',
    'metros',
    'metri',
    'metr',
    'pies',
    'pieds',
    'fuss',
    'piedi',
    'voet',
    'stopy',
  ],
]);

/** Without accents, in small letters; `ß` is ss, `ł` is l, `ø` is o. */
export function plainLetters(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replaceAll('ł', 'l')
    .replaceAll('ø', 'o')
    .replaceAll('æ', 'ae');
}

/** The words of a text as they stand: parted by anything but letters and digits, and where a capital follows a small letter. */
function wordsOf(text: string): readonly string[] {
  return plainLetters(text.replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2'))
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
}

/** The form of a header; `unitsCell` is what a row of units says of the column, if there is one. */
export function headerForm(header: string, unitsCell = ''): HeaderForm {
  const inside = BRACKETS.exec(header)?.groups?.['inside'] ?? '';
  const words = wordsOf(header.replace(BRACKETS, ' '));
  const said = wordsOf(inside).join(' ');
  const below = wordsOf(unitsCell).join(' ');
  // A header of no words has no last one.
  const last = words.length > 1 && UNIT_WORDS.has(words.at(-1) ?? '') ? (words.at(-1) ?? '') : '';
  // Nor one before it.
  const isUsFoot = last !== '' && ['us', 'survey'].includes(words.at(-2) ?? '');
  const own = last === '' ? words : words.slice(0, isUsFoot ? -2 : -1);
  const unit = said !== '' ? said : below !== '' ? below : isUsFoot ? `us ${last}` : last;
  return { phrase: own.join(' '), words: own, unit };
}

/** Words of units and of writings that stand beneath a header, and seldom in one. */
const UNIT_CELL_WORDS: ReadonlySet<string> = new Set([
  ...['s', 'sec', 'utc', 'yyyy', 'hh', 'dd'],
  ...['ddmm', 'dddmm', 'ddmmss', 'dddmmss'],
]);

/** Whether a cell of a row beneath the header says a unit. */
export function isUnitCell(cell: string): boolean {
  const words = wordsOf(cell);
  return words.length <= 3 && words.some((word) => UNIT_WORDS.has(word) || UNIT_CELL_WORDS.has(word));
}
