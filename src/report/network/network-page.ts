import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { NetworkPageReport, WholeTest } from '../../records/reports/network-page-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { filesTable } from '../page/sections/files-table.js';
import { NO_MARKUP, markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, readable } from '../page/words/numbers.js';
import { surveyLines } from '../page/words/survey-words.js';
import { page } from '../page/page.js';
import { commandLine, kickerOf, titleOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { workedSection } from '../page/sections/worked-section.js';
import { reasonsTable } from '../page/sections/reasons-table.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { componentsTable } from './components-table.js';
import { controlFigure, ellipseFigure, redundancyFigure, residualFigure } from './network-figures.js';
import { MOST_NAMED, controlWords, namesOf, stillHolds } from './network-words.js';
import { oneStation, oneStationVerdict } from './one-station.js';
import type { OneStation } from './one-station.js';
import {
  basesTable,
  controlTable,
  distortionsTable,
  observationsTable,
  parametersTable,
  relativeTable,
  removedTable,
  stationsTable,
} from './network-tables.js';

const TITLE = 'Adjustment of a network';
/** Of a vector; the axes of a system have the same letters. */
const AXES: readonly string[] = ['X', 'Y', 'Z'];

/** The page of an adjusted network: one self-contained HTML file as text. */
export function networkPage(report: NetworkPageReport): string {
  const one = oneStation(report);
  const sections = [
    ...(one === null ? wholeSections(report) : stationSections(report, one)),
    section('basis', 'Files', [filesTable(report.files), commandLine(report)]),
    warningsSection(report.warnings),
    section('cautions', 'Cautions', [
      cautionList([
        'A station that nothing checks says so: one blunder in its only observation goes into the coordinate whole and unseen.',
        'Residuals show no error that all observations share, such as a wrong frame or epoch of the control.',
        'Blunders in two observations at once can hide more than the figures of what could hide say.',
        ...CAUTIONS.slice(2),
      ]),
    ]),
  ];
  return page({
    title: titleOf(report, report.title, TITLE, 'in the adjusted network'),
    kicker: kickerOf(TITLE, report, report.title),
    verdict: one === null ? verdict(report) : oneStationVerdict(report, one),
    sections: sections.filter((own) => own !== null),
    foot: 'Sigmas and ellipses are those of the adjustment, in metres along true east, north and up unless said otherwise. This page loads nothing and runs nothing.',
  });
}

function section(id: string, heading: string, pieces: readonly Markup[]): PageSection | null {
  const body = together(pieces);
  return body.html === '' ? null : { id, heading, body };
}

function wholeSections(report: NetworkPageReport): readonly (PageSection | null)[] {
  let count = 0;
  const figure = (make: (report: NetworkPageReport, number: number) => Markup | null): Markup => {
    const made = make(report, count + 1);
    if (made === null) return { html: '' };
    count += 1;
    return made;
  };
  const hasPlan = isDrawn(report);
  return [
    section('plan', 'Stations and their accuracy', [
      ...(hasPlan ? [figure(ellipseFigure)] : []),
      stationsTable(report),
      relativeTable(report),
    ]),
    section('checked', 'How well each station is checked', hasPlan ? [figure(redundancyFigure)] : []),
    section('residuals-section', 'Residuals against what is expected', [
      figure(residualFigure),
      componentsTable(report),
    ]),
    section('control', 'Control before and after', [figure(controlFigure), controlTable(report)]),
    section('removed', 'What was left out, and why', [removedTable(report)]),
    section('observations', 'Observations', [observationsTable(report)]),
    section('bases', 'Bases that the network determined', [basesTable(report)]),
    section('parameters', 'Errors that observations share', [parametersTable(report), distortionsTable(report)]),
    section('reasons', 'What the reasons mean', [reasonsTable(codesOf(report))]),
  ];
}

/** Of one station: the figure of all, which shows where it stands; what is its own; and its working. */
function stationSections(report: NetworkPageReport, { own }: OneStation): readonly (PageSection | null)[] {
  return [
    section('plan', 'The station and its accuracy', [
      ...(isDrawn(report) ? [ellipseFigure(report, 1)] : []),
      stationsTable(own),
      relativeTable(own),
    ]),
    section('control', 'As control, before and after', own.control.length === 0 ? [] : [controlTable(own)]),
    section('observations', 'Observations that meet it', [observationsTable(own)]),
    section('reasons', 'What the reasons mean', [reasonsTable(codesOf(own))]),
    workedSection(report),
  ];
}

function isDrawn({ stations }: NetworkPageReport): boolean {
  return stations.some(({ ellipse }) => ellipse !== null);
}

/** The first screen: the answer, what to look at first, what to do next, and what was not done. */
function verdict(report: NetworkPageReport): readonly Markup[] {
  const { answer, counts, freeTest, finalTest, worst, worstControl, next, datum, anchors, scale, distortions } = report;
  const notDone = [
    datum === 'control' ? '' : `The control does not hold the coordinates: the datum is ${datum}.`,
    counts.excluded === 0 ? 'Nothing was left out.' : '',
    'Frame and epoch of the control were taken as those of the observations.',
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(counts.stations, 'station')}, ${counted(counts.observations, 'observation')}, ${counted(counts.control, 'control point')}. ${counts.failed === 0 ? 'No observation fails' : `Observations that fail${counts.excluded === 0 ? '' : ' or were left out'}: ${String(counts.failed)}`}; ${counts.unchecked === 0 ? (report.isUntied ? `every station but ${anchors.join(', ')} is checked` : 'every station is checked') : `nothing checks ${counted(counts.unchecked, 'station')}`}.`,
    ...whyLine(report),
    ...leftOutLine(report),
    worst === null
      ? markup`<b>Nothing can be tested:</b> nothing is observed more often than needed.`
      : markup`<b>${worst.isFoul ? 'Look first' : 'Largest residual'}</b> ${worst.isFoul ? 'at ' : ''}${named(worst.what)}, ${AXES.includes(worst.axis) ? `geocentric ${worst.axis}` : worst.axis}: ${timesWords(worst)}.`,
    ...(worstControl === null
      ? []
      : [
          markup`<b>Control.</b> ${controlWords(worstControl)}; its test is ${readable(worstControl.test, 1)}, the limit ${fixed(worstControl.limit, 1)}.${othersOff(report)}${stillHolds(report)}`,
        ]),
    next.length === 0 ? markup`<b>Next.</b> Nothing is open.` : markup`<b>Next.</b> ${next.join(' ')}`,
    markup`<b>The whole.</b> Held by ${together(anchors.slice(0, 6).map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`))} alone: ${testWords(freeTest)}. All together: ${testWords(finalTest)}.${scale > 1 ? ` Uncertainties are ${fixed(Math.sqrt(scale), 2)} times the stated.` : ''}`,
    ...(distortions === null
      ? []
      : [
          markup`<b>Distortions.</b> ${counted(distortions.count, 'distortion')} looked for; kept: ${
            distortions.rows.every(({ answer }) => answer !== 'kept')
              ? 'none'
              : together(
                  distortions.rows
                    .filter(({ answer }) => answer === 'kept')
                    .slice(0, 6)
                    .map(
                      ({ name, valuePpm, sigmaPpm }, index) =>
                        markup`${index === 0 ? '' : '; '}${named(name)}, ${fixed(valuePpm, 2)} ± ${fixed(sigmaPpm, 2)} mm a kilometre`,
                    ),
                )
          }.`,
        ]),
    ...surveyLines(report),
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** A residual in sigmas, and its limit, both by one scale: that of the residuals where they say how large the sigmas are. */
function timesWords({ value, limit, sigmaFactor }: NonNullable<NetworkPageReport['worst']>): string {
  const factor = sigmaFactor ?? 1; // The stated hold.
  return `${readable(Math.abs(value) / factor, 2)} times its sigma${sigmaFactor === null ? '' : ' as the residuals of all have it (τ)'}${limit === null ? '' : `, where ${fixed(limit / factor, 2)} is the limit of one number`}`;
}

/** Why an answer is not within, where no observation fails and every station is checked. */
function whyLine({ answer, counts, reasons, isUntied, anchors }: NetworkPageReport): readonly Markup[] {
  const why = [
    ...(isUntied && answer === 'review'
      ? [`nothing checks ${anchors.join(', ')}, the control that alone holds it`]
      : []),
    // What fails, and what nothing checks, stands in the line above.
    ...(counts.failed + counts.unchecked > 0
      ? []
      : [...new Set(reasons)].slice(0, MOST_NAMED).map((code) => PROBLEM_CODES[code].meaning)),
  ];
  if (answer === 'within' || why.length === 0) return [];
  return [markup`<b>Why.</b> ${sentenceOf(why.join('; '))}.`];
}

function sentenceOf(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** What was left out, by name. */
function leftOutLine({ removed }: NetworkPageReport): readonly Markup[] {
  return removed.length === 0 ? [] : [markup`<b>Left out:</b> ${namesOf(removed.map(({ what }) => what))}.`];
}

function testWords({ weightedSquares, degreesOfFreedom, limits, answer }: WholeTest): string {
  if (limits === null) return 'nothing checks it';
  const words = {
    within: 'as expected',
    'too-large': 'too large, a blunder or sigmas stated too small',
    'too-small': 'too small, sigmas stated too large',
    'not-tested': 'not tested',
  };
  return `sum of squares ${readable(weightedSquares, 1)} with ${counted(degreesOfFreedom, 'degree')} of freedom, expected ${fixed(limits[0], 1)} to ${fixed(limits[1], 1)}: ${words[answer]}`;
}

/** The other control that its test refuses. */
function othersOff({ control, worstControl }: NetworkPageReport): Markup {
  const ids = control.flatMap(({ id, verdict }) => (verdict === 'no' && id !== worstControl?.id ? [id] : []));
  return ids.length === 0 ? NO_MARKUP : markup` Beyond theirs too: ${namesOf(ids)}.`;
}

function codesOf({ stations, observations, control, reasons }: NetworkPageReport): readonly ProblemCode[] {
  return [
    ...reasons,
    ...stations.flatMap(({ point }) => point.reasons),
    ...observations.flatMap(({ row }) => row.reasons),
    ...control.flatMap((row) => row.reasons),
  ];
}
