import { streamTimeText } from '../../core/corrections/stream-time-text.js';
import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import { SIDE_WORDS } from '../../core/corrections/outage-side-words.js';
import type { BroadcastCheck } from '../../records/corrections/broadcast-check.js';
import type { CorrectionAudit, StreamCalendar } from '../../records/corrections/correction-audit.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { CorrectionsReport } from '../../records/reports/corrections-report.js';
import { wideFigure } from '../figures/figure.js';
import { answerWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, counted, fixed, plainInstants, trueMinus, utcWords } from '../page/words/numbers.js';
import { sideOf } from '../page/words/side-words.js';
import type { GroundAxis } from '../page/words/side-words.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { broadcastSection } from './broadcast-section.js';
import { linkSection } from './link-section.js';
import { messageDrawing } from './message-drawing.js';
import { SIDE_HELP, longestFirst } from './outage-words.js';
import { stationsSection } from './stations-section.js';

const MOST_MESSAGES = 200;

/** The page of recorded corrections and of the link of a day: one self-contained HTML file as text. */
export function correctionsPage(report: CorrectionsReport): string {
  const { audit, checks, cost, link, toleranceM } = report;
  const stream = audit === null ? null : messagesSection(audit, cost, 1);
  const sections: readonly (PageSection | null)[] = [
    findingsSection(report),
    audit === null || checks.length === 0
      ? null
      : {
          id: 'broadcast',
          heading: 'Bases against the stream',
          body: broadcastSection(checks, audit.calendar, toleranceM),
        },
    audit === null ? null : { id: 'stations', heading: 'What the stations sent', body: stationsSection(audit) },
    stream === null ? null : { id: 'messages', heading: 'Messages', body: stream.body },
    link === null
      ? null
      : { id: 'link', heading: 'The link', body: linkSection([{ day: null, link }], 1 + (stream?.figures ?? 0)).body }, // Without streams it has the first figure.
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'A stream shows what was sent, not that it was right: compare the coordinate with that of the mark.',
        'What a point cost is by a planning model. Only repeats and control say what it was.',
        ...CAUTIONS.slice(2, 4),
      ]),
    },
  ];
  return page({
    title: report.title ?? (audit === null ? 'The link of the day' : 'What the base sent'),
    kicker: kickerOf('Corrections as recorded', report),
    verdict: verdict(report),
    sections: sections.filter((section) => section !== null),
    foot: 'Coordinates are as they were sent, in metres; times are UTC unless they say GPS time. This page loads nothing and runs nothing.',
  });
}

function verdict(report: CorrectionsReport): readonly Markup[] {
  const { answer, audit, link, basesHeld, rowsSkipped } = report;
  const notDone = [
    audit === null ? 'No stream was named: which side an outage was on is not known.' : '',
    audit !== null && basesHeld === null ? 'No session was named: the coordinate sent was held against nothing.' : '',
    link === null ? 'No fixes were named: what reached the rover is not known.' : '',
    'Observations were not decoded.',
    rowsSkipped === 0 ? '' : `${counted(rowsSkipped, 'bad row')} of the fixes left out.`,
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${wholeOf(report)}`,
    ...findingLine(report),
    ...broadcastLine(report),
    ...linkLine(report),
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** What was found first, and what mends it; the others are counted. */
function findingLine({ findings, link }: CorrectionsReport): readonly Markup[] {
  // What the link lost has a line of its own.
  const [first, ...others] = link === null ? findings : findings.filter(({ code }) => code !== 'link-outage');
  if (first === undefined) return [];
  // The table has those of the link too.
  const more = others.length === 0 ? '' : ` ${counted(findings.length - 1, 'more finding')} below.`;
  const said = `${first.message.slice(0, 1).toUpperCase()}${first.message.slice(1)}`;
  return [
    markup`<b>Look first.</b> ${plainInstants(trueMinus(said))}.${more} <b>Next:</b> ${first.hint ?? PROBLEM_CODES[first.code].fix}.`,
  ];
}

function wholeOf({ audit, link }: CorrectionsReport): string {
  const parts = [
    ...(audit === null
      ? []
      : [
          `${counted(audit.stations.length, 'station')} in ${counted(audit.frames.good + audit.frames.damaged, 'frame')}${spanOf(audit)}; ${audit.frames.damaged === 0 ? 'none' : String(audit.frames.damaged)} of them damaged`,
        ]),
    ...(link === null ? [] : [`${counted(link.epochs, 'epoch')} of fixes`]),
  ];
  return `${parts.join('; ')}.`;
}

function spanOf({ calendar, files }: CorrectionAudit): string {
  const first = files.flatMap(({ firstMs }) => firstMs ?? []);
  const last = files.flatMap(({ lastMs }) => lastMs ?? []);
  return first.length === 0 ? '' : `, ${timeIn(calendar, smallestOf(first))} to ${timeIn(calendar, largestOf(last))}`;
}

function timeIn(calendar: StreamCalendar, ms: number): string {
  return plainInstants(streamTimeText(calendar, ms));
}

/** The base that lies farthest off, by name and axis. */
function broadcastLine({ checks, basesHeld }: CorrectionsReport): readonly Markup[] {
  if (basesHeld === null) return [];
  const worst = checks
    .flatMap((check) => (check.sent === null ? [] : [{ check, ...worstAxis(check.sent.arp) }]))
    .toSorted((a, b) => Math.abs(b.valueM) - Math.abs(a.valueM))[0];
  const silent = checks.filter(({ sent }) => sent === null);
  const failing = checks.filter(({ verdict: own }) => own === 'no').length;
  const missing = silent.map(({ baseId }, index) => markup`${index === 0 ? '' : ', '}${named(baseId)}`);
  return [
    markup`<b>Bases.</b> ${counted(basesHeld, 'base')} of the session held against what was sent: ${failing === 0 ? 'none differs' : `${String(failing)} ${failing === 1 ? 'comparison differs' : 'comparisons differ'}`}.${worst === undefined ? '' : markup` The farthest is ${named(worst.check.baseId)}: the antenna that was sent lies ${fixed(Math.abs(worst.valueM), 3)} m ${sideOf(worst.axis, worst.valueM)} that of the session.`}${silent.length === 0 ? '' : markup` Nothing was sent for ${missing}.`}${causeOf(worst?.check ?? null)}${nextOf(checks)}`,
  ];
}

/** Where a line mends the session: that one is right has to be found out first. */
function nextOf(checks: readonly BroadcastCheck[]): Markup {
  return checks.some(({ line }) => line !== null)
    ? markup` <b>Next:</b> find out which is right; where it is what was sent, the line to put into the session stands below.`
    : { html: '' };
}

function causeOf(check: BroadcastCheck | null): string {
  return check?.cause == null ? '' : ` Nearest cause: ${check.cause}.`;
}

function worstAxis({ eastM, northM, upM }: { readonly eastM: number; readonly northM: number; readonly upM: number }): {
  readonly axis: GroundAxis;
  readonly valueM: number;
} {
  const own = [
    { axis: 'east', valueM: eastM },
    { axis: 'north', valueM: northM },
    { axis: 'up', valueM: upM },
  ] as const;
  return own.reduce((worst, one) => (Math.abs(one.valueM) > Math.abs(worst.valueM) ? one : worst));
}

/** The longest outage by place and time, and what to do about it. */
function linkLine({ link }: CorrectionsReport): readonly Markup[] {
  if (link === null) return [];
  const { outages, cost } = link;
  const [longest] = longestFirst(outages.listed);
  const lost =
    cost.lostEpochs === 0
      ? ''
      : ` ${counted(cost.lostEpochs, 'epoch')} too old, ${counted(cost.lostPoints.length, 'point')} lost whole.`;
  if (longest === undefined)
    return [
      markup`<b>Link.</b> No outage of more than 5 s; age ${fixed(link.meanAgeS, 1)} s in the mean, ${fixed(link.largestAgeS, 1)} s at most.${lost}`,
    ];
  const where = longest.points.listed
    .slice(0, 3)
    .map((name, index) => markup`${index === 0 ? '' : ', '}${named(name)}`);
  const count = outages.listed.length + outages.leftOut;
  return [
    markup`<b>Link.</b> ${counted(count, 'outage')}, the longest ${fixed((longest.toMs - longest.fromMs) / 1000, 0)} s from ${utcWords(longest.fromMs, 8)} at ${where}: ${SIDE_WORDS[longest.side]}.${lost} <b>Next:</b> ${SIDE_HELP[longest.side]}.`,
  ];
}

function findingsSection({ findings }: CorrectionsReport): PageSection | null {
  if (findings.length === 0) return null;
  return {
    id: 'findings',
    heading: 'What to look at',
    body: table({
      label: 'What to look at',
      caption: markup`<b>What to look at.</b>`,
      columns: [
        { head: 'Reason', kind: 'text' },
        { head: 'What was found', kind: 'prose' },
        { head: 'What mends it', kind: 'prose' },
      ],
      rows: findings.map(({ code, message, hint }) => [
        code,
        plainInstants(trueMinus(message)),
        hint ?? PROBLEM_CODES[code].fix,
      ]),
    }),
  };
}

function messagesSection(
  audit: CorrectionAudit,
  cost: CorrectionsReport['cost'],
  number: number,
): { readonly body: Markup; readonly figures: number } {
  const drawn = messageDrawing('messages-drawn', audit);
  const few =
    drawn !== null && drawn.drawn < drawn.all
      ? ` ${String(drawn.drawn)} of ${String(drawn.all)} are drawn, those of most bytes and known time.`
      : '';
  return {
    figures: drawn === null ? 0 : 1,
    body: together([
      drawn === null
        ? { html: '' }
        : wideFigure(
            drawn.content,
            number,
            markup`When each message came, by station and number: thick where it came at its usual interval, thin and red where it was due and stayed away.${few}`,
          ),
      messagesTable(audit),
      cost === null
        ? { html: '' }
        : markup`<p>${fixed(cost.bytesPerS, 1)} bytes a second; in a day of ${fixed(cost.hours, 1)} h ${fixed(cost.dayBytes / 1e6, 2)} MB, and ${fixed(cost.dayTransportBytes / 1e6, 2)} MB of the network’s own.</p>`,
    ]),
  };
}

function messagesTable({ messages, bytes }: CorrectionAudit): Markup {
  const shown = messages.slice(0, MOST_MESSAGES);
  const few = shown.length < messages.length ? ` ${String(shown.length)} of ${String(messages.length)} are shown.` : '';
  return table({
    label: 'Messages',
    caption: markup`<b>Messages.</b> Bytes are whole frames, without what the network adds.${few}`,
    columns: [
      { head: 'Station', kind: 'text' },
      { head: 'Message', kind: 'text' },
      { head: 'Count', kind: 'number' },
      { head: 'Bytes', kind: 'number' },
      { head: 'Share', unit: '%', kind: 'number' },
      { head: 'Interval', unit: 's, mean', kind: 'number' },
      { head: 'Announced', unit: 's', kind: 'number' },
      { head: 'Longest', unit: 's', kind: 'number' },
      { head: 'Gaps', kind: 'number' },
      { head: 'Padding', unit: 'bytes', kind: 'number' },
    ],
    rows: shown.map((own) => [
      own.stationId === null ? UNKNOWN : String(own.stationId),
      String(own.number),
      String(own.messages),
      String(own.bytes),
      fixed((100 * own.bytes) / bytes, 1),
      fixed(own.meanIntervalS, 2),
      fixed(own.announcedIntervalS, 1),
      fixed(own.longestGapS, 1),
      String(own.gaps.listed.length + own.gaps.leftOut),
      own.paddingBytes === null ? UNKNOWN : String(own.paddingBytes),
    ]),
  });
}
