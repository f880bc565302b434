import type { SurveySpan } from '../../../records/reports/parts/survey-span.js';
import { utcDate, utcTime } from './numbers.js';

/** When was measured: a date with hours, or from date to date. */
export function surveyWhen(surveyed: SurveySpan | null): string {
  if (surveyed === null) return 'The epochs state no time';
  const { firstMs, lastMs } = surveyed;
  return utcDate(firstMs) === utcDate(lastMs)
    ? `${utcDate(firstMs)}, ${hours(firstMs, lastMs)} UTC`
    : `${utcDate(firstMs)} to ${utcDate(lastMs)}`;
}

/** From and to, once where they are one minute. */
function hours(firstMs: number, lastMs: number): string {
  const first = utcTime(firstMs).slice(0, 5);
  const last = utcTime(lastMs).slice(0, 5);
  return first === last ? first : `${first} to ${last}`;
}
