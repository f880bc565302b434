import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { CAUSE_COUNT, CAUSE_TEXTS } from '../../../../core/quality/cause/cause-ids.js';
import type { CauseEstimate } from '../../../../core/quality/cause/cause-model.js';
import type { CauseFinding, CauseReport } from '../../../../core/quality/cause/likely-cause.js';
import type { CauseSearch } from '../../../../tasks/check/judge/check-tolerances-cause.js';
import { offsetOfRepeats } from '../../../../tasks/check/compare/check-tolerances-repeats.js';
import { dayThatIsOdd } from '../../../../tasks/check/compare/day-that-is-odd.js';
import type { RepeatGroup } from '../../../../tasks/check/compare/check-tolerances-repeats.js';
import { MOST_PAIRED } from '../../../../tasks/repeats/repeat-pairs.js';

const UNITS: Readonly<Record<CauseEstimate['unit'], readonly [string, number]>> = {
  m: [' m', 3],
  ppm: [' ppm', 1],
  years: [' years', 1],
  deg: ['°', 1],
  turn: ['°', 5],
  times: ['', 2],
  '': ['', 6],
};

/** Points that a cause is said of by name. */
const MOST_NAMED = 12;
const LEAD = '  the likeliest of those tested, not a proof: confirm before anything is corrected';

/** What the search for a cause says, in lines; `anyExceeds`: some control row is beyond its limit. */
export function causeLines(search: CauseSearch, anyExceeds: boolean): readonly string[] {
  const { report, points, thinnedFrom, geoidSigmaM } = search;
  const thinned =
    thinnedFrom === null ? [] : [`  searched ${String(points)} of ${String(thinnedFrom)} checks, evenly spread`];
  const looked = `${String(report.tested)} forms of ${String(CAUSE_COUNT)} causes were looked at`;
  if (report.verdict === 'nothing-to-explain')
    return [`likely cause: none; ${looked}, and the residuals agree with their stated uncertainty`, ...thinned];
  if (report.verdict === 'no-single-cause' && !anyExceeds)
    return [
      'together the residuals do not agree with their stated uncertainty, though each is within its limit; no single cause explains it',
      ...thinned,
    ];
  if (report.verdict === 'too-few-values')
    return [`likely cause: not looked for; ${String(report.observations)} values are too few`];
  const [first] = report.findings;
  if (first === undefined) return [...noCauseLines(report, looked, geoidSigmaM), ...thinned];
  if (report.verdict === 'two-causes') return [...pairLines(report), ...thinned, LEAD];
  const isNamed = report.verdict === 'named';
  const tied = report.findings.filter((finding) => finding === first || report.alike.includes(finding.cause));
  const shown = isNamed
    ? [...tied, ...report.findings.filter((finding) => finding.explains && !tied.includes(finding))].slice(
        0,
        Math.max(3, tied.length),
      )
    : report.thenSingles.length > 0
      ? tied
      : report.findings.slice(0, Math.max(2, tied.length));
  const isTie = tied.length > 1;
  const opening = isNamed
    ? isTie
      ? `likely cause: one of ${String(tied.length)}, marked =, that these residuals cannot tell apart`
      : 'likely cause'
    : 'no single cause explains this; the nearest';
  const lines = shown.flatMap((finding, index) =>
    findingLines(
      finding,
      isTie && tied.includes(finding) ? '=' : `${String(isTie ? index - tied.length + 2 : index + 1)}.`,
      report.rmsBeforeM,
    ),
  );
  const [last] = report.thenSingles.slice(-1);
  const after =
    last === undefined
      ? []
      : [
          '  with the first taken off, single occupations stand out:',
          ...report.thenSingles.map(
            (finding) =>
              `     ${CAUSE_TEXTS[finding.cause].title}${subjectOf(finding)} [${finding.cause}]; ${finding.estimates.map(estimateText).join(', ')}`,
          ),
          ...(last.explains ? ['     together these explain the residuals'] : []),
        ];
  return [`${opening}:`, ...lines, ...after, ...thinned, LEAD];
}

/** Nothing opens, and a check is beyond its limit. */
function noCauseLines({ isDisturbed }: CauseReport, looked: string, geoidSigmaM: number | null): readonly string[] {
  const opening = `likely cause: no single cause explains this; ${looked}, and none gains more than chance gives`;
  if (isDisturbed) return [opening];
  return [
    `${opening}: taken together the residuals agree with their stated uncertainty`,
    ...(geoidSigmaM === null
      ? []
      : [
          `  heights are compared by a geoid model with a sigma of ${formatFixed(geoidSigmaM, 3)} m: an error that all share is not seen within that`,
        ]),
  ];
}

/** Two causes that explain together what neither does alone; beside each those it cannot be told from. */
function pairLines({ together, rmsBeforeM }: CauseReport): readonly string[] {
  const lines = together.flatMap(({ finding, alike }, index) => {
    const [head = '', ...rest] = findingLines(finding, `${String(index + 1)}.`, rmsBeforeM);
    return [
      head,
      ...alike.map((cause) => `     or ${CAUSE_TEXTS[cause].title} [${cause}]: these residuals cannot tell`),
      ...rest,
    ];
  });
  return ['likely cause: no single one; two together explain this:', ...lines];
}

function findingLines(finding: CauseFinding, mark: string, beforeM: number): readonly string[] {
  const { title, confirm } = CAUSE_TEXTS[finding.cause];
  const estimates = finding.estimates.map(estimateText).join(', ');
  return [
    `  ${mark} ${title}${subjectOf(finding)} [${finding.cause}]`,
    `     ${estimates === '' ? '' : `${estimates}; `}RMS ${size(beforeM)} before, ${size(finding.rmsAfterM)} after; evidence ${finding.gain > 9999 ? 'over 9999' : formatFixed(finding.gain, 1)}`,
    ...(finding.alsoFits.length === 0 ? [] : [`     fits about as well: ${finding.alsoFits.join('; ')}`]),
    `     to confirm: ${confirm}`,
  ];
}

function subjectOf({ subject }: CauseFinding): string {
  return subject === '' ? '' : ` (${subject})`;
}

function estimateText({ name, value, sigma, unit }: CauseEstimate): string {
  const [word, decimals] = UNITS[unit];
  const error = sigma === null ? '' : ` ± ${formatFixed(1.96 * sigma, decimals)}`;
  return `${name.replaceAll('_', ' ')} ${formatFixed(value, decimals)}${error}${word}`;
}

function size(metres: number): string {
  return metres >= 10 ? `${formatFixed(metres, 1)} m` : `${formatFixed(metres * 1000, 1)} mm`;
}

/** What was assumed and how it was judged; each likeliest cause once with the points whose occupations disagree, and of each of these a line. */
export function repeatLines(groups: readonly RepeatGroup[]): readonly string[] {
  const unknown = groups.filter(({ hasUnknownSetup }) => hasUnknownSetup).length;
  const unsure = groups.filter(({ isSure }) => !isSure).length;
  const long = groups.filter(({ occupations }) => occupations.length > MOST_PAIRED).length;
  const said = [
    '  one test of all occupations of a point, at 1 % over all points',
    ...(unsure === 0
      ? []
      : [
          `  no uncertainty is known at ${String(unsure)} of them: occupations without sigmas are not tested; name the session of the day (--session), or give points their sigmas`,
        ]),
    ...(unknown === 0
      ? []
      : [
          `  base set-ups are not known at ${String(unknown)} of them (no session names them): rows of one base id are taken for one set-up of unknown sigma; where that decides, nothing is decided`,
        ]),
    ...(long === 0
      ? []
      : [
          `  of points with more than ${String(MOST_PAIRED)} occupations each is listed against the one before it, with those farthest apart`,
        ]),
  ];
  const causes = [...new Set(groups.flatMap(({ cause }) => cause?.cause ?? []))];
  return [
    ...said,
    ...commonLines(groups),
    ...oddDayLines(groups),
    ...causes.flatMap((id) => {
      const same = groups.filter(({ cause }) => cause?.cause === id);
      return [`  ${CAUSE_TEXTS[id].title} [${id}], the likeliest for ${namesOf(same)}:`, ...same.flatMap(groupLine)];
    }),
    ...groups.filter(({ cause }) => cause === null).flatMap(groupLine),
  ];
}

/** Many that disagree by their occupation of one day have one cause. */
function oddDayLines(groups: readonly RepeatGroup[]): readonly string[] {
  const odd = dayThatIsOdd(groups);
  if (odd === null) return [];
  return [
    `  at ${String(odd.count)} of ${String(odd.of)} that disagree the occupation of ${odd.day} stands alone, and at no other one of another day: one mistake of that day is likelier than so many, such as the antenna height of its base or the pole typed that day`,
  ];
}

/** Many that disagree by one vector have one cause. */
function commonLines(groups: readonly RepeatGroup[]): readonly string[] {
  const common = offsetOfRepeats(groups);
  if (common === null) return [];
  const { offset, count, of } = common;
  const { eastM, northM, upM } = offset;
  const metres = [
    `east ${formatFixed(eastM, 3)} m`,
    `north ${formatFixed(northM, 3)} m`,
    `up ${formatFixed(upM, 3)} m`,
  ];
  return [
    `  ${String(count)} of ${String(of)} that disagree do so by one vector, ${metres.join(', ')} (later minus earlier): one cause is likelier than so many, such as the base set up anew between, another pole, or another day's settings`,
  ];
}

function namesOf(groups: readonly RepeatGroup[]): string {
  const more = groups.length > MOST_NAMED ? ` and ${String(groups.length - MOST_NAMED)} more` : '';
  return `${groups
    .slice(0, MOST_NAMED)
    .map(({ pointId }) => pointId)
    .join(', ')}${more}`;
}

function groupLine({
  pointId,
  occupations,
  cause,
  odd,
  chiSquare,
  degreesOfFreedom,
  limit,
  isUndecided,
}: RepeatGroup): readonly string[] {
  const sum = `χ² ${formatFixed(chiSquare, 1)} with ${String(degreesOfFreedom)} degrees of freedom`;
  if (cause === null) {
    if (isUndecided)
      return [
        `  ${pointId}: ${sum}, limit ${formatFixed(limit, 1)}, if the base has the largest share of the sigmas; not decided`,
      ];
    return occupations.length > 2 ? [`  ${pointId}: ${String(occupations.length)} occupations joined, ${sum}`] : [];
  }
  const { eastM, northM, upM } = cause.difference;
  const which =
    odd === null
      ? occupations.length === 2
        ? 'which one is wrong, two cannot say'
        : 'none alone explains it'
      : `occupation ${odd} stands alone`;
  const poles = cause.polesDiffer ? '; the pole lengths logged differ' : '';
  const step =
    cause.poleStepM === null ? '' : `; agrees with a step of poles of ${formatFixed(Math.abs(cause.poleStepM), 3)} m`;
  return [
    `    ${pointId}: ${size(Math.hypot(eastM, northM))} in plan, ${formatFixed(upM * 1000, 1)} mm in height; ${sum}, limit ${formatFixed(limit, 1)}; ${which}${poles}${step}`,
  ];
}
