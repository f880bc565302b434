import type { SurveyCrew } from '../../../records/reports/parts/survey-crew.js';
import type { SurveySpan } from '../../../records/reports/parts/survey-span.js';
import { markup, named } from '../markup.js';
import type { Markup } from '../markup.js';
import { baseNames } from './base-names.js';
import { utcDate, utcTime } from './numbers.js';

const MOST_BASES = 6;
/** Names of people and instruments of one kind on the first screen. */
const MOST_NAMED = 4;

/** What a page says of the survey behind its points. */
export interface SurveyBehind {
  /** Null: no epoch states its time. */
  readonly surveyed: SurveySpan | null;
  readonly crew: SurveyCrew;
}

/**
 * When was measured, from which bases, by whom, with what and for whom, as far as the inputs say it; nothing where they say nothing of it.
 * `baseIds`: a name for each set-up; none where the page is not of bases.
 */
export function surveyLines({ surveyed, crew }: SurveyBehind, baseIds: readonly string[] = []): readonly Markup[] {
  const sentences = [
    ...(surveyed === null && baseIds.length === 0
      ? []
      : [markup`${surveyed === null ? 'The epochs state no time' : surveyWhen(surveyed)}${fromBases(baseIds)}.`]),
    ...crewSentences(crew),
  ];
  return sentences.length === 0
    ? []
    : [markup`<b>Surveyed.</b> ${sentences.map((text, index) => (index === 0 ? text : markup` ${text}`))}`];
}

/** When was measured: a date with hours, or from date to date. */
function surveyWhen({ firstMs, lastMs }: SurveySpan): string {
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

function fromBases(ids: readonly string[]): Markup | null {
  const names = baseNames(ids);
  if (names.length === 0) return null;
  const shown = names.map(({ name, setUps }) =>
    setUps === 1 ? named(name) : markup`${named(name)} (${String(setUps)} set-ups)`,
  );
  return markup`, from ${names.length === 1 ? 'base' : 'bases'} ${listed(shown, MOST_BASES)}`;
}

function crewSentences({ client, surveyor, observers, instruments, baseInstruments }: SurveyCrew): readonly Markup[] {
  const withWhat = [
    ...instruments.map(named),
    ...baseInstruments.map(({ id, instrument }) => markup`base ${named(id)}: ${named(instrument)}`),
  ];
  return [
    surveyor === null ? null : markup`Surveyor: ${named(surveyor)}.`,
    observers.length === 0
      ? null
      : markup`${observers.length === 1 ? 'Observer' : 'Observers'}: ${listed(observers.map(named), MOST_NAMED)}.`,
    withWhat.length === 0 ? null : markup`With ${listed(withWhat, MOST_NAMED, '; ')}.`,
    client === null ? null : markup`For ${named(client)}.`,
  ].filter((text) => text !== null);
}

function listed(names: readonly Markup[], most: number, between = ', '): Markup {
  const more = names.length > most ? ` and ${String(names.length - most)} more` : '';
  return markup`${names.slice(0, most).map((name, index) => (index === 0 ? name : markup`${between}${name}`))}${more}`;
}
