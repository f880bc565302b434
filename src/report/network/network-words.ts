import type { NetworkPageReport } from '../../records/reports/network-page-report.js';
import { NO_MARKUP, markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { sideOf } from '../page/words/side-words.js';
import { lengthUnit } from '../page/words/length-unit.js';

export const MOST_NAMED = 6;
/** Where the network and the other control put a control point. */
export function controlWords({ id, axis, differenceM }: NonNullable<NetworkPageReport['worstControl']>): Markup {
  const unit = lengthUnit(Math.abs(differenceM));
  return markup`The network and the other control put ${named(id)} ${unit.write(Math.abs(differenceM))} ${unit.name} ${sideOf(axis, differenceM)} where it is stated`;
}

/** Names, and how many more. */
export function namesOf(ids: readonly string[]): Markup {
  const more = ids.length > MOST_NAMED ? ` and ${String(ids.length - MOST_NAMED)} more` : '';
  return markup`${ids.slice(0, MOST_NAMED).map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`)}${more}`;
}

/** Control that its test refuses and that still holds the coordinates moves every station. */
export function stillHolds({ control, pulled }: NetworkPageReport): Markup {
  const ids = control.flatMap(({ id, verdict, isHolding }) => (verdict === 'no' && isHolding ? [id] : []));
  if (ids.length === 0) return NO_MARKUP;
  const why =
    pulled ??
    `${ids.length === 1 ? 'it holds' : 'they hold'} the network and ${ids.length === 1 ? 'moves' : 'move'} every station, whatever is said of it by itself`;
  return markup` <b>Use no coordinates of this page yet:</b> ${why}.`;
}
