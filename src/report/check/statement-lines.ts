import type { CheckReport } from '../../records/reports/check-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, trueMinus } from '../page/words/numbers.js';
import { withIndices } from '../page/words/with-indices.js';
import { surveyLines } from '../page/words/survey-words.js';

const MOST_STATEMENTS = 4;
const MOST_NAMED = 6;

/** What a standard does not let one say, and what could not be held against anything, which make the answer no whatever the comparisons are. */
export function failingStatements({ statements }: CheckReport): readonly Markup[] {
  const failing = statements.filter(isFailing);
  const said = (head: string, those: CheckReport['statements']): readonly Markup[] =>
    those.length === 0
      ? []
      : [
          // One demand a line.
          markup`<b>${head}</b> ${those
            .slice(0, MOST_STATEMENTS)
            .map(({ what, text }) => withIndices(`${capitalised(`${what}: ${withoutOptions(trueMinus(text))}`)}.`))
            .map((line, index) => (index === 0 ? line : markup`<br>${line}`))}`,
        ];
  return [
    ...said('Not compared.', statements.filter(hasMend)),
    ...said(
      'By the standard, no.',
      failing.filter((one) => !hasMend(one)),
    ),
  ];
}

/** Whether it is of the files and not of a standard. */
export function hasMend({ mend }: CheckReport['statements'][number]): boolean {
  return mend !== undefined;
}

/** A demand without the option of the program that would meet it. */
export function withoutOptions(text: string): string {
  return text.replace(/: add --\S+ [A-Z]+$/u, '');
}

/** What it lets one say where nothing fails, with the bias that it assumes to be removed. */
export function standardLine(report: CheckReport): readonly Markup[] {
  const { statistics } = report;
  const statements = report.statements.filter((one) => !hasMend(one) && !isNotJudged(one));
  if (statements.length === 0 || statements.some(isFailing)) return [];
  const shown = statements.slice(0, MOST_STATEMENTS).map(({ what, text }) => `${what}: ${trueMinus(text)}`);
  const biased = hasBias(report) ? statistics.filter(({ isBiased }) => isBiased) : [];
  const means = biased.map(({ axis, meanM }) => `${axis} ${fixed(1000 * meanM, 1)} mm`).join(', ');
  return [
    markup`<b>By the standard.</b> ${withIndices(capitalised(shown.join('; ')))}.${means === '' ? '' : ` Mean difference: ${means}.`}`,
  ];
}

/** Whether it is what a standard asks and no file shows, which belongs to what was not done. */
export function isNotJudged({ what }: CheckReport['statements'][number]): boolean {
  return what === 'asked by the standard and not judged here';
}

/** Whether a statement rests on a bias being removed that the checks show. */
export function hasBias({ statements, statistics }: CheckReport): boolean {
  return statements.some(({ what }) => what === 'systematic error') && statistics.some(({ isBiased }) => isBiased);
}

export function isFailing({ verdict }: CheckReport['statements'][number]): boolean {
  return verdict === 'exceeds' || verdict === 'not-stated';
}

/** Where series were tested and no point was compared: what the tests found, what fails first. */
export function statementLines(report: CheckReport): readonly Markup[] {
  const { answer, statements, day } = report;
  const failing = statements.filter(isFailing);
  const shown = (failing.length > 0 ? failing : statements).slice(0, MOST_STATEMENTS);
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(statements.length, 'statement')}, ${failing.length === 0 ? 'none fails' : `${String(failing.length)} ${failing.length === 1 ? 'fails or cannot be made' : 'fail or cannot be made'}`}.`,
    ...shown.map(
      ({ what, text }) =>
        markup`<b>${withIndices(capitalised(what))}.</b> ${withIndices(capitalised(trueMinus(text)))}.`,
    ),
    markup`<b>Next.</b> ${failing.length === 0 ? 'Keep the page with the equipment and the procedure it is of, dated and signed, and test again after repair.' : nextOfSets(report)}`,
    ...alsoWithin(statements.filter((one) => !shown.includes(one))),
    ...procedureLines(report),
    ...day.map((line) => markup`<b>The day.</b> ${capitalised(line)}.`),
    markup`<b>Not done.</b> No point was compared with control; the test says how a procedure repeats, not where its points are.`,
  ];
}

/** Sets beyond the screen by name, where some are. */
function nextOfSets({ sets }: CheckReport): string {
  const names =
    sets === null
      ? []
      : sets.rows.flatMap(({ name, distanceErrorM, heightErrorM }) =>
          Math.abs(distanceErrorM) > sets.distanceLimitM || Math.abs(heightErrorM) > sets.heightLimitM
            ? [`series ${name.split('.').join(' set ')}`]
            : [],
        );
  if (names.length === 0)
    return 'See in the figure which sets and series stand out, what was different there, and measure the test again.';
  const more = names.length > MOST_NAMED ? ` and ${String(names.length - MOST_NAMED)} more` : '';
  return `See what was different at ${names.slice(0, MOST_NAMED).join(', ')}${more}, and measure ${names.length === 1 ? 'its series' : 'their series'} again.`;
}

/** Tests that hold and are not said above, by name. */
function alsoWithin(others: CheckReport['statements']): readonly Markup[] {
  const names = others.flatMap(({ what, verdict }) => (verdict === 'within' ? [what] : []));
  return names.length === 0 ? [] : [markup`<b>Within too:</b> ${withIndices(names.join('; '))}.`];
}

/** A test is of an equipment, a person and a day: what of these no input states is to be written in by hand. */
function procedureLines(report: CheckReport): readonly Markup[] {
  const { surveyed, crew } = report;
  const missing = [
    ...(crew.instruments.length === 0 ? ['the equipment'] : []),
    ...(crew.observers.length === 0 ? ['the observer'] : []),
    ...(surveyed === null ? ['the date'] : []),
  ];
  const [last, ...others] = missing.toReversed();
  return [
    ...surveyLines(report),
    ...(last === undefined
      ? []
      : [
          markup`<b>Not stated.</b> ${capitalised([...(others.length === 0 ? [] : [others.toReversed().join(', ')]), last].join(' and '))}: write ${missing.length === 1 ? 'it' : 'them'} on the page before it is kept.`,
        ]),
  ];
}

/** A title as the beginning of a sentence; a symbol with an index stays as it is written. */
export function capitalised(text: string): string {
  return text.includes('_') ? text : `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}
