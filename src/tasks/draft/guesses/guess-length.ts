import type { ColumnProfile } from '../columns/column-profile.js';
import { ASKED } from '../draft-line.js';
import type { DraftValue } from '../draft-line.js';

/** A unit of lengths that a header says; `feet`: a foot that does not say which. */
export type SaidLength = 'm' | 'cm' | 'mm' | 'ft' | 'usft' | 'feet';

const UNITS: readonly (readonly [RegExp, SaidLength])[] = [
  [
    /^(?:us ft|us feet|us foot|usft|us survey ft|us survey feet|us survey foot|survey ft|survey feet|ftus|sft)$/u,
    'usft',
  ],
  [/^(?:ift|intl ft|int ft|international ft|international feet|international foot)$/u, 'ft'],
  [/^(?:ft|feet|foot|pies|pieds|fuss|pes|piedi|voet|stopy)$/u, 'feet'],
  [/^(?:m|meter|metre|metres|meters|metros|metri|metr)$/u, 'm'],
  [/^(?:cm|centimetre|centimeter)$/u, 'cm'],
  [/^(?:mm|millimetre|millimeter)$/u, 'mm'],
];

/** The unit that a header or the row beneath says; null: none. */
export function saidLength({ form }: ColumnProfile): SaidLength | null {
  return UNITS.find(([words]) => words.test(form.unit))?.[1] ?? null;
}

/** A length by what its values may be in metres, where no unit is said. */
export interface LengthKind {
  /** Values that are taken for metres without being told: their median lies within. */
  readonly metres: readonly [number, number];
}
const ANY: LengthKind = { metres: [-Infinity, Infinity] };
/** A pole is carried by one person: 2 m is 6.6 ft. Sigmas of more than half a metre are hardly those of a solution that is used: 8 mm is no 8 m. */
const KINDS: Readonly<Record<string, LengthKind>> = {
  pole_length_m: { metres: [0.3, 5] },
  sigma_east_m: { metres: [0, 0.5] },
  sigma_north_m: { metres: [0, 0.5] },
  sigma_up_m: { metres: [0, 0.5] },
  sigma_horizontal_m: { metres: [0, 0.5] },
};

/** What is guessed of a column of lengths: its header, with its unit where that is not metres. `isFeetFile`: another header of the file says feet. */
export function guessLength(
  column: ColumnProfile,
  name: string,
  isFeetFile: boolean,
): { readonly value: DraftValue; readonly why: readonly string[] } {
  const { header, least, most, median } = column;
  const said = saidLength(column);
  const range = least === most ? `every value ${String(least)}` : `values ${String(least)} to ${String(most)}`;
  if (said === 'm') return { value: header, why: [`the header says metres; ${range}`] };
  if (said === 'feet')
    return {
      value: { header, unit: ASKED },
      why: [`the header says feet, not which: write "ft" for international feet, "usft" for US survey feet; ${range}`],
    };
  if (said !== null) return { value: { header, unit: said }, why: [`the header says ${said}; ${range}`] };
  const [from, to] = (KINDS[name] ?? ANY).metres;
  if (isFeetFile || median < from || median > to)
    return {
      value: { header, unit: ASKED },
      why: [
        isFeetFile
          ? `no unit is said, and other headers say feet: write "m", "ft" or "usft"; ${range}`
          : `no unit is said, and ${range} are hardly metres: write "mm", "cm", "ft", "usft", or "m"`,
      ],
    };
  return { value: header, why: [`no unit is said: metres are taken; ${range}`] };
}
