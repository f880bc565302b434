import { countWords } from '../../../core/quality/count-words.js';
import { gravestAnswer } from '../../../core/quality/gravest-answer.js';
import { judgeRegister } from '../../../core/quality/register/judge-register.js';
import type { AxisFinding, RegisterChart } from '../../../core/quality/register/judge-register.js';
import { MOST_REGISTER_ROWS } from '../../../core/quality/register/movement-search.js';
import { theilSenInterval } from '../../../core/quality/register/theil-sen-interval.js';
import { largestOf } from '../../../core/numeric/extremes.js';
import { meanAndDeviation } from '../../../core/numeric/mean-and-deviation.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { entryAt, present } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { Answer, RunAnswer } from '../../../records/runs/run-answer.js';
import type { RegisterAxis, RegisterRow, RegisterValue } from '../../../records/reports/register-report.js';
import type { NamedPoints } from '../check-points.js';
import type { CheckSetup } from '../judge/check-tolerances-setup.js';
import { gatherRegister } from './gather-register.js';
import type { GatheredRegister } from './gather-register.js';
import { axisSeries, registerBases } from './register-series-of.js';
import type { AxisSeries, RegisterBase } from './register-series-of.js';
import { REGISTER_AXES } from './seen-marks.js';

/** The register of a job's control. */
export interface RegisterRun {
  readonly gathered: GatheredRegister;
  /** By mark and then base, in the order they were first seen; of each the axes that have a residual. */
  readonly rows: readonly RegisterRow[];
  readonly answer: RunAnswer;
}

/** Fewer set-ups have no before and after. */
const LEAST_SET_UPS = 2;
/** Confidence of the interval of a trend. */
const TREND_CONFIDENCE = 0.95;
const MS_PER_DAY = 86_400_000;
const WORDS: readonly Answer[] = ['within', 'review', 'no'];

/** What the state of an axis says of what is suspected in it. */
const OF_STATE: Readonly<
  Record<AxisFinding['state'], { readonly verdict: Answer; readonly reason: ProblemCode } | null>
> = {
  moved: { verdict: 'no', reason: 'register-moved' },
  'moved-once': { verdict: 'review', reason: 'register-moved-once' },
  'off-once': { verdict: 'no', reason: 'register-set-up-off' },
  'chart-crossed': null,
  still: null,
};

/**
 * The residuals of control over the days of a job: mean, spread, trend and chart of each mark and base, and which began to move.
 *
 * Given: occupations of points, named `day/occupation`; control of any role; ids of the days; the setup of a check with the bases of the job.
 * Returned: see `RegisterRun`; the answer is no where a step is believed that two set-ups or more have, or a displacement of one set-up alone; review where
 * the last set-up has a step or a chart alone crosses its limit. Problems: those of `gatherRegister`; check-too-few-rows for a single set-up, register-too-large.
 */
export function runRegister(
  points: NamedPoints,
  control: NamedPoints,
  days: readonly string[],
  setup: CheckSetup,
): Outcome<RegisterRun> {
  const outcome = gatherRegister(points, control, days, setup);
  if (!outcome.ok) return outcome;
  const gathered = outcome.value;
  if (gathered.setUps.length < LEAST_SET_UPS)
    return failure(
      errorProblem('check-too-few-rows', {
        message: 'the control was seen in one set-up, and a movement has a before and an after',
        hint: 'give points of two days or more',
      }),
    );
  const bases = registerBases(gathered);
  const axes = REGISTER_AXES.map((axis) => axisSeries(gathered, bases, axis, setup));
  const findings = judgeRegister(axes.map(({ series }) => series));
  if (findings === null)
    return failure(
      errorProblem('register-too-large', {
        message: `a register holds ${String(MOST_REGISTER_ROWS)} residuals an axis at most`,
        hint: 'give fewer days or fewer marks at a time: 40 days of 50 marks are the most',
      }),
    );
  const rows = [...gathered.marks.keys(), ...bases.keys()].flatMap((index, place) => {
    const what = place < gathered.marks.length ? ('mark' as const) : ('base' as const);
    return REGISTER_AXES.flatMap((axis, at) => {
      const finding = entryAt(findings, at);
      const chart = finding.charts.find((own) => own.what === what && own.index === index);
      return chart === undefined ? [] : [rowOf(chart, finding, axis, entryAt(axes, at), gathered, bases)];
    });
  });
  return success({ gathered, rows, answer: answerOf(rows) }, outcome.problems);
}

function rowOf(
  chart: RegisterChart,
  finding: AxisFinding,
  axis: RegisterAxis,
  { series, setUps }: AxisSeries,
  gathered: GatheredRegister,
  bases: readonly RegisterBase[],
): RegisterRow {
  const { what, index } = chart;
  const setUpOf = (epoch: number): GatheredRegister['setUps'][number] =>
    entryAt(gathered.setUps, entryAt(setUps, epoch));
  const values = chart.epochs.map((epoch, place): RegisterValue => {
    const { rows } = entryAt(series.epochs, epoch);
    const own = what === 'mark' ? rows.filter(({ mark }) => mark === index) : rows;
    const { day, base, atMs } = setUpOf(epoch);
    return {
      day,
      setUp: base.identity.setupName,
      atMs,
      residualM: own.reduce((sum, { residualM }) => sum + residualM, 0) / own.length,
      z: entryAt(chart.values, place),
      ...entryAt(chart.chart.steps, place),
    };
  });
  const { mean, standardDeviation } = meanAndDeviation(values.map(({ residualM }) => residualM));
  const { signal } = chart.chart;
  const [suspect, other] = finding.suspects.filter((own) => own.what === what && own.index === index);
  const isBelieved = OF_STATE[finding.state] !== null;
  return {
    ...(what === 'mark' ? namedMark(gathered, index) : namedBase(gathered, bases, index)),
    what,
    axis,
    values,
    meanM: mean,
    spreadM: standardDeviation,
    trend: trendOf(values),
    largestUpper: largestOf(values.map(({ upper }) => upper)),
    largestLower: largestOf(values.map(({ lower }) => lower)),
    signal:
      signal === null
        ? null
        : {
            day: entryAt(values, signal.at).day,
            direction: signal.direction,
            beganDay: entryAt(values, signal.began).day,
          },
    movement:
      suspect === undefined || !isBelieved
        ? null
        : {
            kind: suspect.kind,
            sizeM: suspect.sizeM,
            sigmaM: suspect.sigmaM,
            epochs: suspect.epochs,
            fromDay: setUpOf(suspect.from).day,
            other: other === undefined ? null : { kind: other.kind, day: setUpOf(other.from).day, sizeM: other.sizeM },
          },
    ...judged(finding, suspect !== undefined, signal !== null),
  };
}

/** A step is said of what is suspected; a chart alone asks to be looked at. */
function judged(
  { state, suspects }: AxisFinding,
  isSuspect: boolean,
  hasSignal: boolean,
): Pick<RegisterRow, 'verdict' | 'reasons'> {
  const found = isSuspect ? OF_STATE[state] : null;
  const chart: readonly ProblemCode[] = hasSignal ? ['register-chart'] : [];
  if (found === null) return { verdict: hasSignal ? 'review' : 'within', reasons: chart };
  const whose = new Set(suspects.map(({ what, index }) => `${what} ${String(index)}`));
  const untold: readonly ProblemCode[] = whose.size > 1 ? ['register-not-told-apart'] : [];
  return { verdict: found.verdict, reasons: [found.reason, ...untold, ...chart] };
}

function namedMark({ marks }: GatheredRegister, index: number): Pick<RegisterRow, 'id' | 'place'> {
  const { pointId, known } = entryAt(marks, index);
  const { latitudeDeg, longitudeDeg } = known;
  return { id: pointId, place: latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg } };
}

/** A base by the names that its mark has had. */
function namedBase(
  { setUps }: GatheredRegister,
  bases: readonly RegisterBase[],
  index: number,
): Pick<RegisterRow, 'id' | 'place'> {
  const { base } = entryAt(bases, index);
  const { markKey } = base.identity;
  const own = setUps.filter((setUp) => setUp.base.identity.markKey === markKey).map((setUp) => setUp.base.settings.id);
  const { latitudeDeg, longitudeDeg } = base.origin.geodetic;
  return { id: [...new Set(own)].join(' + '), place: { latitudeDeg, longitudeDeg } };
}

function trendOf(values: readonly RegisterValue[]): RegisterRow['trend'] {
  if (values.some(({ atMs }) => atMs === null)) return null;
  const times = values.map(({ atMs }) => present(atMs, 'the time of a set-up') / MS_PER_DAY);
  return theilSenInterval(
    times.map((time) => time - entryAt(times, 0)),
    values.map(({ residualM }) => residualM),
    TREND_CONFIDENCE,
  );
}

function answerOf(rows: readonly RegisterRow[]): RunAnswer {
  const counts = (word: Answer): number => rows.filter(({ verdict }) => verdict === word).length;
  return {
    answer: gravestAnswer(rows.map(({ verdict }) => verdict)),
    verdicts: new Map(WORDS.map((word) => [word, counts(word)])),
    reasons: new Map(countWords(rows, ({ reasons }) => reasons)),
  };
}
