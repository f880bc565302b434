import { loadLimitsFile } from '../../../../files/check/load-limits-file.js';
import type { Standard } from '../../../../core/quality/standards/standards.js';
import type { ToleranceSettings } from '../../../../records/session.js';
import { checkLimits } from '../../../../tasks/check/judge/check-limits.js';
import type { CheckLimits } from '../../../../tasks/check/judge/check-limits.js';
import { flagOption, numberOption, textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';

/** The limits of a run, and what is to be said of the session's tolerance. */
export interface AskedLimits extends Pick<CheckLimits, 'limits'> {
  readonly lines: readonly string[];
}

/** Every limit of the run: the options', the file's, the standard's, and with --limits-from-session the session's. */
export async function askedLimits(
  bench: Workbench,
  log: RunLog,
  standard: Standard | null,
  tolerance: ToleranceSettings,
): Promise<AskedLimits> {
  const { invocation } = bench;
  const [horizontalM, verticalM] = [
    numberOption(invocation, 'limitHorizontal'),
    numberOption(invocation, 'limitVertical'),
  ];
  if (horizontalM !== null) log.setting('limit_horizontal_m', horizontalM, 'command line');
  if (verticalM !== null) log.setting('limit_vertical_m', verticalM, 'command line');
  const path = textOption(invocation, 'limits');
  const file = path === null ? null : bench.take(await loadLimitsFile(path, bench.context));
  if (file !== null) log.input(file.from, 'limits', file.limits.length, 0);
  const takesTolerance = flagOption(invocation, 'limitsFromSession');
  const { limits, unusedTolerance } = bench.take(
    checkLimits({
      horizontalM,
      verticalM,
      file: file === null ? [] : file.limits,
      standard,
      tolerance,
      takesTolerance,
    }),
  );
  if (takesTolerance) {
    log.setting('limits_from_session', true, 'command line');
    return { limits, lines: [`limits from the session's tolerance: ${toleranceWords(tolerance)}`] };
  }
  return {
    limits,
    lines:
      unusedTolerance === null || invocation.args.length === 0
        ? []
        : [
            `the session states a tolerance of ${toleranceWords(unusedTolerance)}, which is no limit here; --limits-from-session makes it one`,
          ],
  };
}

function toleranceWords({ horizontalM, verticalM }: ToleranceSettings): string {
  return [
    horizontalM === null ? '' : `${String(horizontalM)} m in plan`,
    verticalM === null ? '' : `${String(verticalM)} m in height`,
  ]
    .filter((text) => text !== '')
    .join(' and ');
}
