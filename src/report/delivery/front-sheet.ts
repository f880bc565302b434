import type {
  DeliveryBase,
  DeliveryCheck,
  DeliveryFact,
  DeliveryReport,
} from '../../records/reports/delivery-report.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import { entryAt } from '../../records/present.js';
import { answerWord } from '../page/words/answer-word.js';
import { NO_MARKUP, markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, counted, fixed, trueMinus } from '../page/words/numbers.js';
import { PAGE_STYLE } from '../page/page-style.js';
import { withWholeDates } from '../page/words/whole-dates.js';
import { areInARow, timeWords } from './sheet-times.js';
import { nextLine } from './sheet-next.js';
import { SHEET_STYLE } from './sheet-style.js';

/** What fits on one sheet of paper beside everything else; the record and the ledger have all of it. */
const MOST_BASES = 3;
const MOST_CHECKS = 2;
const GRAVITY: Readonly<Record<DeliveryCheck['answer'], number>> = { within: 0, review: 1, no: 2, error: 3 };
const MOST_EDITS = 2;
const MOST_DAYS = 8;

/** Shorter than on other pages: one sheet holds them all. */
const SHEET_CAUTIONS: readonly string[] = [
  'A computation, not a legal survey: boundary and cadastral work is reserved to licensed persons in most countries, and local rules come first.',
  'Do not set out structures, drainage, rail or utilities, and do not give clearances or flood levels, from points that nothing independent of the base has checked.',
  'Heights depend on the geoid model and the vertical datum; levels that matter need a tie to benchmarks.',
  'Points for review carry a doubt that coordinates.csv states; rejected points have no coordinate.',
];

/** The front sheet of a delivery: one self-contained HTML file as text, one sheet of A4 in print. */
export function frontSheet(whole: DeliveryReport): string {
  // Of more checks than a sheet has room for those that say no come first.
  const report = { ...whole, checks: whole.checks.toSorted((a, b) => GRAVITY[b.answer] - GRAVITY[a.answer]) };
  const style = { html: `<style>${PAGE_STYLE}${SHEET_STYLE}</style>` };
  return withWholeDates(
    markup`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${report.title}</title>
${style}
</head>
<body>
<div class="page sheet">
<header>
<p class="kicker">Survey delivery · runs until ${timeWords(report.timeUtc)}</p>
<h1><bdi>${report.title}</bdi></h1>
<div class="verdict">
${verdictLines(report).map(
  (line) => markup`<p>${line}</p>
`,
)}</div>
</header>
<main>
<div class="facts">
${together(parts(report))}</div>
${signedBy('Handed over', report.surveyor, 'This is what was computed. The doubts, failures and cautions above were told.')}
${signedBy('Received', report.client, 'The digests were verified, and the cautions above were read.')}
</main>
<footer><p class="small">Made by Pegbook ${report.toolVersion} of runs until ${timeWords(report.timeUtc)}. manifest-sha256.txt beside this folder lists the digest of every file: sha256sum -c manifest-sha256.txt verifies them.</p></footer>
</div>
</body>
</html>
`.html,
  );
}

/** Whether the whole is as it should be, what checked it, and how sure it is at worst. */
function verdictLines(report: DeliveryReport): readonly Markup[] {
  const { counts, points, answer, checks, worst } = report;
  const words = wordsOf(counts);
  const answers = [answer, ...checks.map((check) => check.answer)];
  const whole = answers.includes('error') ? 'no' : gravestAnswer(answers.filter((one) => one !== 'error'));
  const reduction =
    answer === 'within'
      ? ''
      : ` The answer of the reduction is ${answer}: coordinates.csv has the reason beside each occupation.`;
  const figures = [
    worst.plan === null ? null : markup`in plan ${worst.plan.value} m (${named(worst.plan.name)})`,
    worst.height === null ? null : markup`in height ${worst.height.value} m (${named(worst.height.name)})`,
  ].filter((text) => text !== null);
  return [
    markup`<b>${answerWord(whole)}</b> ${counted(points, 'point')} with coordinates. Occupations: ${words === '' ? 'none' : words}.${reduction}`,
    checks.length === 0
      ? markup`<b>Not checked.</b> No check of these coordinates is part of this delivery.`
      : markup`<b>Checked.</b> ${checks
          .slice(0, MOST_CHECKS)
          .map((check, index) => markup`${index === 0 ? '' : '; '}${checkWords(check)}`)}.`,
    figures.length === 0
      ? markup`<b>No uncertainty is stated.</b>`
      : markup`<b>Least sure at 95 %:</b> ${figures.map((text, index) => (index === 0 ? text : markup`, ${text}`))}.`,
    ...nextLine(report, whole),
  ];
}

function wordsOf(counts: ReadonlyMap<string, number>): string {
  return [...counts]
    .filter(([, count]) => count > 0)
    .map(([verdict, count]) => `${String(count)} ${verdict}`)
    .join(', ');
}

function checkWords({ what, answer, counts, largest: stated, beyond }: DeliveryCheck): Markup {
  // What left no record is told by its table.
  const largest = stated.length > 0 ? stated : beyond.slice(0, MOST_CHECKS);
  const words = wordsOf(counts);
  const found = largest.map(
    ({ name, value, at }, index) => markup`${index === 0 ? '; largest ' : ', '}${name} ${value} m (${named(at)})`,
  );
  return markup`${what}: ${answer} (${words === '' ? 'nothing counted' : words}${found})`;
}

/** Room for one to sign, and what is signed. */
function signedBy(heading: string, who: string | null, what: string): Markup {
  return markup`<section class="signed"><h2>${heading}${who === null ? null : markup`: ${named(who)}`}</h2>
<p class="small">${what}</p>
<div class="sign">
${['Name and capacity', 'Signature', 'Place and date'].map(
  (word) => markup`<section><div></div><p>${word}</p></section>
`,
)}</div></section>`;
}

function parts(report: DeliveryReport): readonly Markup[] {
  const { days, observers, instruments, systems, grids, bases, checks, edits, notes } = report;
  const shownDays = areInARow(days)
    ? `${entryAt(days, 0)} to ${entryAt(days, days.length - 1)}`
    : days.length > MOST_DAYS
      ? `${entryAt(days, 0)} … ${entryAt(days, days.length - 1)}`
      : days.join(', ');
  // Side by side they wrap: many lines are shorter over the whole width.
  const beside = bases.length > 2 || checks.length > 2 ? across : part;
  return [
    part(
      'What and for whom',
      facts([
        { name: 'Client', value: report.client ?? UNKNOWN },
        { name: 'Surveyor', value: report.surveyor ?? UNKNOWN },
        ...(observers.length === 0 ? [] : [{ name: 'Observer', value: observers.join(', ') }]),
        ...(instruments.length === 0 ? [] : [{ name: 'With', value: fewOf(instruments) }]),
        { name: 'Days', value: days.length === 0 ? UNKNOWN : `${shownDays} (${String(days.length)})` },
        { name: 'First epoch', value: timeWords(report.firstEpoch) },
        { name: 'Last epoch', value: timeWords(report.lastEpoch) },
      ]),
    ),
    part('Where', facts(report.extent.map(rounded))),
    part('System and heights', facts(systems)),
    part(
      'Grids',
      grids.length === 0
        ? markup`<p class="small">No geoid or other grid: heights are ellipsoidal.</p>`
        : together(grids.map(gridFacts)),
    ),
    beside('Bases', together([...bases.slice(0, MOST_BASES).map(baseFacts), more(bases.length - MOST_BASES, 'base')])),
    beside(
      'Checks',
      checks.length === 0
        ? markup`<p class="small">No check of these coordinates is part of this delivery.</p>`
        : together([...checks.slice(0, MOST_CHECKS).map(checkFacts), more(checks.length - MOST_CHECKS, 'check')]),
    ),
    ...(edits.length + notes.length === 0
      ? []
      : [
          across(
            'Left out and changed',
            list([
              ...edits.slice(0, MOST_EDITS),
              ...(edits.length > MOST_EDITS ? [`${String(edits.length - MOST_EDITS)} more: see the record`] : []),
              ...notes,
            ]),
          ),
        ]),
    across('Cautions', list(SHEET_CAUTIONS)),
    across(
      'Digests (SHA-256)',
      markup`<dl class="digest"><dt>coordinates.csv</dt><dd><code>${report.coordinatesSha256}</code></dd><dt>last line of the ledger</dt><dd><code>${report.ledgerSha256}</code></dd></dl>`,
    ),
  ];
}

function fewOf(texts: readonly string[]): string {
  return `${texts.slice(0, MOST_BASES).join('; ')}${texts.length > MOST_BASES ? ` and ${String(texts.length - MOST_BASES)} more` : ''}`;
}

function part(heading: string, body: Markup): Markup {
  return markup`<section><h2>${heading}</h2>${body}</section>
`;
}

function across(heading: string, body: Markup): Markup {
  return markup`<section class="across"><h2>${heading}</h2>${body}</section>
`;
}

function facts(rows: readonly DeliveryFact[]): Markup {
  return markup`<dl>${rows.map(({ name, value }) => markup`<dt>${name in NAMES || /_(?:m|deg)$/u.test(name) ? label(name) : name}</dt><dd>${named(value)}</dd>`)}</dl>`;
}

const NAMES: Readonly<Record<string, string>> = { fixes: 'Positions in', grid: 'Grid', epoch: 'Epoch' };

/** The name of a column in words, with its unit. */
function label(name: string): string {
  const words = NAMES[name] ?? name.replace(/_m$/u, ', m').replace(/_deg$/u, ', °').replaceAll('_', ' ');
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}

/** Corners of the work for people: to the metre, and to a few metres in degrees; the list has every digit. */
function rounded({ name, value }: DeliveryFact): DeliveryFact {
  const decimals = name.endsWith('_deg') ? 4 : 0;
  const shown = value.split(' to ').map((text) => {
    const number = parseDecimal(text);
    return number === null ? text : fixed(number, decimals);
  });
  return { name, value: [...new Set(shown)].join(' to ') };
}

function gridFacts({ name, value, sha256, test }: DeliveryReport['grids'][number]): Markup {
  const tested = test === null ? '' : markup`<dt>Test value</dt><dd>${trueMinus(test)}</dd>`;
  return markup`<dl><dt>${name}</dt><dd>${named(value)}</dd><dt>SHA-256</dt><dd class="digest"><code>${sha256 ?? 'built into the program'}</code></dd>${tested}</dl>`;
}

/** Of a base first where it is, then how high, then what of it that is the place of. */
const PLACE_ORDER: readonly RegExp[] = [
  /^(?:easting|westing|latitude|x)_/u,
  /^(?:northing|southing|longitude|y)_/u,
  /^z_m$/u,
  /height/u,
];

function baseFacts({ id, days, kind, place }: DeliveryBase): Markup {
  const when = days.length === 0 ? '' : days.length > 2 ? ` (${String(days.length)} days)` : ` (${days.join(', ')})`;
  const from = kind === 'known' ? '' : ', as broadcast';
  const rank = ({ name }: DeliveryFact): number => {
    const found = PLACE_ORDER.findIndex((pattern) => pattern.test(name));
    return found < 0 ? PLACE_ORDER.length : found;
  };
  const said = place.toSorted((a, b) => rank(a) - rank(b)).map(withUnit);
  return facts([{ name: `${id}${when}`, value: `${said.join('; ')}${from}` }]);
}

/** `latitude −31.5°`, `ellipsoidal height 1041.8808 m`, `at mark`. */
function withUnit({ name, value }: DeliveryFact): string {
  const unit = name.endsWith('_deg') ? '°' : name.endsWith('_m') ? ' m' : '';
  return `${name.replace(/_(?:m|deg)$/u, '').replaceAll('_', ' ')} ${unit === '' ? value : trueMinus(value)}${unit}`;
}

function checkFacts({ command, what, answer, counts, by }: DeliveryCheck): Markup {
  const words = wordsOf(counts);
  return facts([
    { name: `${what} (${command})`, value: `${answer}: ${words === '' ? 'nothing counted' : words}` },
    ...(by.length === 0 ? [] : [{ name: 'by', value: by.join('; ') }]),
  ]);
}

function more(count: number, word: string): Markup {
  return count <= 0 ? NO_MARKUP : markup`<p class="small">${counted(count, word)} more: see the record.</p>`;
}

function list(texts: readonly string[]): Markup {
  return markup`<ul>${texts.map((text) => markup`<li>${text}</li>`)}</ul>`;
}
