import type { PointInput } from '../../../../io/tables/points/points-read.js';
import type { NamedPoints, Checks, ControlFound, DesignFound } from '../../../../tasks/check/check-points.js';
import type { RepeatCheck } from '../../../../tasks/check/compare/check-tolerances-repeats.js';
import type { CheckAxes } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import { anyOf } from '../../../../tasks/reduce/record-search.js';
import { causeLines, repeatLines } from './check-cause-text.js';
import { pointVerdictLines } from './check-points-text.js';
import { summaryLines, checkTable } from './check-table.js';
import { misclosureLines } from './check-verdict-text.js';

/** A file of control or design, for what is said of its columns. */
type ComparedFile = NamedPoints & { readonly input: PointInput };

/** The files that a check was made of. */
interface CheckedFiles {
  readonly measured: NamedPoints;
  readonly control: ComparedFile | null;
  readonly design: ComparedFile | null;
}

/** Missing points that are named. */
const MOST_MISSING = 8;
/** Columns that are named where none of a file is known. */
const MOST_COLUMNS = 8;

/** Without an uncertainty nothing tells a mistake from noise. */
const NO_SEARCH =
  'likely cause: not looked for, because no uncertainty of these points is known; name the session of the day (--session), or give points their sigmas';

/** What is said of points and their checks, step by step; then the table, the statistics and the likely cause. */
export function checkLines(files: CheckedFiles, checks: Checks, axes: CheckAxes): readonly string[] {
  const { control, repeats, design, rows, summary, search } = checks;
  const anyExceeds = anyOf(rows, (row) => row.check === 'control' && row.verdict === 'exceeds');
  return [
    ...pointVerdictLines(files.measured.points),
    ...(control === null ? [] : controlLines(control, files.control)),
    ...(repeats === null ? [] : repeatsLines(repeats)),
    ...(design === null ? [] : designLines(design, files.design)),
    ...(rows.length > 0 ? checkTable(rows, axes) : []),
    ...(summary === null ? [] : summaryLines(summary, axes)),
    ...(search !== null && (search.report.isDisturbed || anyExceeds) ? causeLines(search, anyExceeds) : []),
    ...(search === null && anyExceeds ? [NO_SEARCH] : []),
  ];
}

function controlLines(found: ControlFound, file: ComparedFile | null): readonly string[] {
  const { rows, checkPoints, fitOnly, unmatched, coverage, hasShared } = found;
  const left = fitOnly > 0 ? `; ${String(fitOnly)} on control of role fit do not count` : '';
  return [
    `control: ${counted(rows.length, 'check')} on ${counted(checkPoints, 'point')}${left}; ${counted(unmatched, 'point')} not in the control`,
    ...coverageLines(coverage, file, 'control'),
    ...(hasShared ? ['  control of role both counts here and is not independent of a fit that used it'] : []),
  ];
}

function repeatsLines({ rows, groups, single, misclosures }: RepeatCheck): readonly string[] {
  return [
    `repeats: ${counted(rows.length, 'comparison')} at ${counted(groups.length, 'point')}; ${String(single)} occupied once`,
    ...repeatLines(groups),
    ...misclosureLines(misclosures),
  ];
}

function designLines({ rows, missing, coverage }: DesignFound, file: ComparedFile | null): readonly string[] {
  const named = missing.slice(0, MOST_MISSING).join(', ');
  const lacking = missing.length === 0 ? '' : `; not measured: ${named}${missing.length > MOST_MISSING ? ', …' : ''}`;
  return [`design: ${counted(rows.length, 'point')} compared${lacking}`, ...coverageLines(coverage, file, 'design')];
}

/** In how many comparisons an axis could be compared; where the file gives no coordinates in plan, the columns that may hold them and are not ours. */
function coverageLines(
  { line }: ControlFound['coverage'],
  file: ComparedFile | null,
  kind: 'control' | 'design',
): readonly string[] {
  if (line === null) return [];
  if (file === null) return [line];
  const { axes, has, passThroughNames } = file.input;
  if (axes !== null || has('latitude_deg') || passThroughNames.length === 0) return [line];
  return [
    line,
    `  ${file.name} has no coordinates in plan; not known are its columns ${passThroughNames.slice(0, MOST_COLUMNS).join(', ')}: map them with --${kind}-columns`,
  ];
}

function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}
