import type { IsoScreen } from '../../core/quality/standards/iso-17123-8.js';
import { NSSDA_CIRCULAR, nssdaHorizontal } from '../../core/quality/standards/nssda.js';
import type { SampleStatistics } from '../../core/quality/standards/sample-statistics.js';
import type {
  CheckReport,
  ReportAxisStatistics,
  ReportCheck,
  ReportRefusal,
} from '../../records/reports/check-report.js';
import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import type { RecordList } from '../../records/record-list.js';
import type { ReportAxis } from '../../records/reports/reduction-report.js';
import type { FixCounts } from './count-fixes.js';
import type { StandCounts } from '../repeats/screen-stands.js';
import type { CauseSearch } from './judge/check-tolerances-cause.js';
import { NEED, checkOf, exceedsOf, worseOf } from './report-check.js';
import type { Worst } from './report-check.js';
import { offsetOfRepeats } from './compare/check-tolerances-repeats.js';
import type { RepeatGroup } from './compare/check-tolerances-repeats.js';
import type { CheckRow, CheckSetup } from './judge/check-tolerances-setup.js';
import type { StandardStatement } from './judge/check-tolerances-standard-statement.js';
import type { ControlSummary } from './check-tolerances-summary.js';
import { causesOf, repeatCausesOf } from './check-report-causes.js';
import { judgedWords } from './check-judged-words.js';
import { keepMostNeeded } from '../repeats/keep-most-needed.js';
import { createSpan } from '../../core/observation/survey-span.js';
import { systemLabel } from '../../core/grid/systems/system-label.js';

/** What a run of checks hands to its page. */
export interface CheckResults {
  readonly rows: RecordList<CheckRow>;
  readonly setup: Pick<CheckSetup, 'axes' | 'grid' | 'bases'>;
  readonly summary: ControlSummary | null;
  readonly statements: readonly StandardStatement[];
  readonly search: CauseSearch | null;
  readonly groups: readonly RepeatGroup[];
  /** What the repeats say of the day, and in words where it was noisier than its model. */
  readonly day: DayVariance | null;
  readonly dayLines: readonly string[];
  readonly inputDoubts: CheckReport['inputDoubts'];
  /** The screen of a field procedure; null: points were checked. */
  readonly screen: IsoScreen | null;
  /** Null: no raw fixes were given. */
  readonly fixes: FixCounts | null;
}

const NOT_SAID: readonly string[] = [];
const MOST_CHECKS = 2000;
/** The results of a check as its page shows them: those that exceed are kept before others. */
export function checkReport(
  results: CheckResults,
  about: Pick<CheckReport, keyof PageFacts | 'title' | 'answer'>,
): CheckReport {
  const { rows, setup, summary, statements, search, groups } = results;
  const kept = keepMostNeeded<ReportCheck>(MOST_CHECKS);
  let worst: Worst = { plan: null, height: null };
  const counts: Record<CheckRow['verdict'], number> = { within: 0, review: 0, exceeds: 0, 'not-stated': 0 };
  const beyond = countBeyond();
  const stoodOn = new Set<string>();
  const surveyed = createSpan();
  for (const row of rows) {
    for (const id of row.measured?.row.baseId?.split('+') ?? NOT_SAID) stoodOn.add(id);
    if (row.measured !== null) surveyed.add(row.measured.row);
    // What a repeat is held against was measured too.
    if (row.known !== null && (row.check === 'repeat' || row.check === 'base-pair')) surveyed.add(row.known.row);
    counts[row.verdict] += 1;
    if (row.verdict === 'exceeds') beyond.add(row);
    worst = worseOf(worst, row);
    if (kept.wants(NEED[row.verdict])) kept.add(NEED[row.verdict], checkOf(row));
  }
  return {
    ...about,
    systemName: setup.grid === null ? null : systemLabel(setup.grid),
    axes: [
      axisOf(setup.axes.first, setup.axes.signs[0] === 1 ? 'east' : 'west', 0, setup),
      axisOf(setup.axes.second, setup.axes.signs[1] === 1 ? 'north' : 'south', 1, setup),
    ],
    bases: basesOf(setup, stoodOn),
    checks: kept.items(),
    checkCount: rows.length,
    exceedCount: counts.exceeds,
    beyond: beyond.result(),
    withinCount: counts.within,
    worst: {
      plan: worst.plan === null ? null : checkOf(worst.plan),
      height: worst.height === null ? null : checkOf(worst.height),
    },
    reviewCount: counts.review,
    surveyed: surveyed.result() ?? results.fixes?.surveyed ?? null,
    fixes: fixesOf(results.fixes),
    judged: judgedWords(rows),
    day: results.dayLines,
    inputDoubts: results.inputDoubts,
    statistics:
      summary === null
        ? []
        : [
            statisticsOf(setup.axes.first, summary.first),
            statisticsOf(setup.axes.second, summary.second),
            statisticsOf('height', summary.up),
          ].flatMap((axis) => axis ?? []),
    circle95: circle95Of(summary),
    sets: setsOf(results.screen),
    statements,
    causes: search === null ? null : causesOf(search),
    repeatCauses: repeatCausesOf(groups),
    repeatOffset: offsetOfRepeats(groups),
  };
}

function fixesOf(counts: FixCounts | null): CheckReport['fixes'] {
  if (counts === null) return null;
  const refused = (kind: StandCounts, of: (at: ReportRefusal['at']) => number): readonly ReportRefusal[] =>
    [...kind]
      .map(([code, stands]) => {
        const at = [...stands].map(([stand, count]) => ({ stand, count })).sort((a, b) => b.count - a.count);
        return { code, at, count: of(at) };
      })
      .sort((a, b) => b.count - a.count || (a.code < b.code ? -1 : 1));
  const { seen, accepted, standCount, epochs, stands } = counts;
  return {
    seen,
    accepted,
    standCount,
    epochs: refused(epochs, (at) => at.reduce((sum, { count }) => sum + count, 0)),
    stands: refused(stands, (at) => at.length),
  };
}

/** Counts those that are beyond, by axis and by kind. */
function countBeyond(): { readonly add: (row: CheckRow) => void; readonly result: () => CheckReport['beyond'] } {
  let [plan, height] = [0, 0];
  const kinds = new Map<ReportCheck['kind'], number>();
  return {
    add(row) {
      const own = exceedsOf(row);
      if (own.plan) plan += 1;
      if (own.height) height += 1;
      kinds.set(row.check, (kinds.get(row.check) ?? 0) + 1); // The first of its kind.
    },
    result: () => ({ plan, height, byKind: [...kinds].map(([kind, count]) => ({ kind, count })) }),
  };
}

function setsOf(screen: IsoScreen | null): CheckReport['sets'] {
  return screen === null
    ? null
    : {
        distanceLimitM: screen.distanceLimitM,
        heightLimitM: screen.heightLimitM,
        rows: screen.sets.map(({ series, set, distanceErrorM, heightErrorM }) => ({
          name: `${String(series)}.${String(set)}`,
          distanceErrorM,
          heightErrorM,
        })),
      };
}

/** Those that the points compared were measured from, so that one far off which served others does not shrink the map to a corner; all where no point says from which. */
function basesOf({ bases, grid, axes }: CheckResults['setup'], stoodOn: ReadonlySet<string>): CheckReport['bases'] {
  const used = stoodOn.size === 0 ? bases : bases.filter(({ settings }) => stoodOn.has(settings.id));
  return used.map(({ settings, origin }) => {
    const pair = { first: NaN, second: NaN };
    const isPlaced =
      grid !== null && grid.forward(origin.geodetic.latitudeDeg, origin.geodetic.longitudeDeg, pair) === 'ok';
    return {
      id: settings.id,
      place: isPlaced ? { first: pair.first * axes.metresPerUnit, second: pair.second * axes.metresPerUnit } : null,
    };
  });
}

function axisOf(
  name: string,
  direction: ReportAxis['direction'],
  index: 0 | 1,
  { grid }: CheckResults['setup'],
): ReportAxis {
  return {
    columnName: `${name}_m`,
    name,
    abbreviation: grid?.axes[index].abbreviation ?? name,
    direction,
    unitName: 'metre',
    metresPerUnit: 1,
  };
}

/** Residuals from which on a circle says something of the others. Source: FGDC-STD-007.3-1998, section 3.2.2. */
const LEAST_FOR_CIRCLE = 20;

/** By the standard where it states one; else, for the eye, the circle of equal axes with the same mean square. */
function circle95Of(summary: ControlSummary | null): CheckReport['circle95'] {
  const { first, second } = summary ?? { first: null, second: null };
  if (first === null || second === null) return null;
  const count = Math.min(first.count, second.count);
  if (count < LEAST_FOR_CIRCLE) return null;
  const { accuracy95M } = nssdaHorizontal(first.rmse, second.rmse, count);
  return {
    radiusM: accuracy95M ?? NSSDA_CIRCULAR * Math.hypot(first.rmse, second.rmse) * Math.SQRT1_2,
    count,
    isStated: accuracy95M !== null,
  };
}

function statisticsOf(axis: string, found: SampleStatistics | null): ReportAxisStatistics | null {
  if (found === null) return null;
  const { count, mean, standardDeviation, rmse, rmseLow95, rmseHigh95, isBiased } = found;
  return {
    axis,
    count,
    meanM: mean,
    standardDeviationM: standardDeviation,
    rmseM: rmse,
    rmseLow95M: rmseLow95,
    rmseHigh95M: rmseHigh95,
    isBiased,
  };
}
