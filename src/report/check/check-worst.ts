import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed, limitMetres } from '../page/words/numbers.js';

/** The kinds of comparison, in words. */
export const KINDS: Readonly<Record<ReportCheck['kind'], string>> = {
  control: 'control',
  repeat: 'repeat',
  'base-pair': 'two bases',
  design: 'design',
  line: 'line',
};

/** Decimals of a length on the first screen; the tables have four. */
export const DECIMALS = 3;

/** The worst by name and axis. */
export function worstLine({ worst: { plan, height }, systemName }: CheckReport): Markup {
  const said = [
    plan === null ? null : worstOf(plan, 'in plan', planOf(plan), plan.horizontalLimitM, plan.exceeds.plan),
    height === null ? null : worstOf(height, 'in height', height.upM, height.verticalLimitM, height.exceeds.height),
  ].filter((text) => text !== null);
  if (said.length === 0) return markup`Nothing was compared.`;
  const parts = said.map((text, index) => (index === 0 ? text : markup`; ${text}`));
  return markup`<b>Worst</b> ${parts}. System: ${systemName ?? 'not stated'}.`;
}

function planOf({ firstM, secondM }: ReportCheck): number | null {
  return firstM === null || secondM === null ? null : Math.hypot(firstM, secondM);
}

function worstOf(
  { pointId, kind, line, against }: ReportCheck,
  axis: string,
  differenceM: number | null,
  limitM: number | null,
  exceeds: boolean,
): Markup {
  return markup`${axis} ${fixed(differenceM === null ? null : Math.abs(differenceM), DECIMALS)} m at ${named(pointId)}, ${KINDS[kind]}${axis === 'in plan' && line !== null ? markup` (${lineWords(line, against)})` : null}${limitM === null ? (exceeds ? ', beyond its uncertainty' : '') : `, limit ${limitMetres(limitM)} m`}`;
}

/** Where along a line of the design, and on which side. */
export function lineWords({ chainageM, rightM }: NonNullable<ReportCheck['line']>, against: string): string {
  return `${offsetWords(rightM)} ${against}, at chainage ${fixed(chainageM, 2)} m`;
}

/** On which side of a line a point lies; an offset that is written as nought has none. */
function offsetWords(rightM: number): string {
  const size = fixed(Math.abs(rightM), DECIMALS);
  return !/[1-9]/u.test(size) ? 'on' : `${size} m ${rightM > 0 ? 'right' : 'left'} of`;
}
