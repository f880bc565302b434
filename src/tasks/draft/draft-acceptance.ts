import type { Assignment } from './columns/assign-columns.js';
import { range } from './columns/draft-columns.js';
import { ASKED } from './draft-line.js';
import type { DraftLine } from './draft-line.js';
import type { Quantity } from './columns/header-words.js';

/** Limits by the column that they need. */
const LIMITS: readonly (readonly [Quantity, string])[] = [
  ['pdop', 'max_pdop'],
  ['correction_age_s', 'max_correction_age_s'],
  ['satellites_used', 'min_satellites'],
  ['tilt_deg', 'max_tilt_deg'],
  ['sigma_horizontal_m', 'max_sigma_horizontal_m'],
  ['sigma_east_m', 'max_sigma_horizontal_m'],
  ['sigma_up_m', 'max_sigma_vertical_m'],
];

/** Lines of `[acceptance]`: the limits that the file's columns allow, none of them in force; which are right, the job says. */
export function acceptanceLines({ of }: Assignment, hasTimes: boolean): readonly DraftLine[] {
  const offered = (key: string, why: string): DraftLine => ({
    path: ['acceptance', key],
    value: ASKED,
    why: [why],
    isOffered: true,
  });
  const seen = new Set<string>();
  const lines = LIMITS.flatMap(([quantity, key]): readonly DraftLine[] => {
    const column = of.get(quantity);
    if (column === undefined || seen.has(key)) return [];
    seen.add(key);
    return [offered(key, `"${column.header}" holds ${range(column)}`)];
  });
  const times = hasTimes
    ? [
        offered('min_epochs', 'the file has times: fewest epochs of an occupation'),
        offered('min_duration_s', 'and its shortest time'),
      ]
    : [];
  return [
    {
      path: ['acceptance', 'solution'],
      value: ['fixed'],
      why: ['solutions that are used'],
    },
    ...lines,
    ...times,
  ];
}
