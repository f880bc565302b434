import { pushAll } from '../../../core/numeric/push-all.js';
import { constantLimit, EVERY_USE } from '../../../core/quality/standards/limit-rule.js';
import type { LimitRule, UsedLimit } from '../../../core/quality/standards/limit-rule.js';
import { STANDARDS } from '../../../core/quality/standards/standards.js';
import type { Standard } from '../../../core/quality/standards/standards.js';
import { nearestWord } from '../../../core/numeric/text/nearest-word.js';
import { openSource } from '../../../io/bytes/source.js';
import { wholeText } from '../../../io/text/whole-text.js';
import { readLimits } from '../../../io/settings/limits-read.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { ToleranceSettings } from '../../../records/session.js';
import { errorProblem } from '../../../records/problem.js';
import { flagOption, numberOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** Every limit of a run, and what is to be said of them. */
export interface LoadedRules {
  readonly limits: readonly UsedLimit[];
  readonly lines: readonly string[];
}

/**
 * Every limit of the run: the options', the file's, the standard's, and with --limits-from-session the tolerance of the
 * session. Plan or height without any is held against its uncertainty.
 */
export async function loadRules(
  bench: Workbench,
  log: RunLog,
  standard: Standard | null,
  tolerance: ToleranceSettings,
): Promise<LoadedRules> {
  const limits: UsedLimit[] = [];
  for (const [option, axis, name] of [
    ['limitHorizontal', '2d', 'horizontal limit'],
    ['limitVertical', 'up', 'vertical limit'],
  ] as const) {
    const value = numberOption(bench.invocation, option);
    if (value === null) continue;
    if (!(value > 0))
      bench.take(
        failure(
          errorProblem('usage-invalid', { message: `the ${name} must be more than 0 metres`, received: String(value) }),
        ),
      );
    limits.push({ rule: constantLimit(name, axis, value), uses: EVERY_USE });
    log.setting(`limit_${axis === 'up' ? 'vertical' : 'horizontal'}_m`, value, 'command line');
  }
  const path = textOption(bench.invocation, 'limits');
  if (path !== null) {
    const source = bench.take(await openSource(path, { cwd: bench.context.cwd, stdin: bench.context.stdin }));
    const text = bench.take(await wholeText(source));
    const file = bench.take(readLimits(text, source.name));
    log.input(source, 'limits', file.limits.length, 0);
    pushAll(limits, file.limits);
  }
  for (const rule of standard?.rules ?? []) limits.push({ rule, uses: EVERY_USE });
  const fromSession = sessionLimits(tolerance);
  if (!flagOption(bench.invocation, 'limitsFromSession')) {
    const isOpen = (up: boolean): boolean => !limits.some(({ rule }) => (rule.axis === 'up') === up);
    const unused = {
      horizontalM: isOpen(false) ? tolerance.horizontalM : null,
      verticalM: isOpen(true) ? tolerance.verticalM : null,
    };
    const isSaid = bench.invocation.args.length > 0 && sessionLimits(unused).length > 0;
    return {
      limits,
      lines: isSaid
        ? [
            `the session states a tolerance of ${toleranceWords(unused)}, which is no limit here; --limits-from-session makes it one`,
          ]
        : [],
    };
  }
  if (fromSession.length === 0)
    bench.take(
      failure(
        errorProblem('config-missing', {
          message: 'there is no tolerance to take as a limit',
          hint: 'write [tolerance] with horizontal_m or vertical_m into the session, or give --limit-horizontal and --limit-vertical',
        }),
      ),
    );
  log.setting('limits_from_session', true, 'command line');
  return {
    limits: [...limits, ...fromSession.map((rule): UsedLimit => ({ rule, uses: EVERY_USE }))],
    lines: [`limits from the session's tolerance: ${toleranceWords(tolerance)}`],
  };
}

/** The session's tolerance holds 95 % of differences. */
function sessionLimits({ horizontalM, verticalM }: ToleranceSettings): readonly LimitRule[] {
  return [
    ...(horizontalM === null ? [] : [constantLimit('tolerance of the session, horizontal', '2d', horizontalM, 0.95)]),
    ...(verticalM === null ? [] : [constantLimit('tolerance of the session, vertical', 'up', verticalM, 0.95)]),
  ];
}

function toleranceWords({ horizontalM, verticalM }: ToleranceSettings): string {
  return [
    horizontalM === null ? '' : `${String(horizontalM)} m in plan`,
    verticalM === null ? '' : `${String(verticalM)} m in height`,
  ]
    .filter((text) => text !== '')
    .join(' and ');
}

/** The standard of --standard; null where none is asked for. */
export function standardNamed(name: string | null): Outcome<Standard | null> {
  if (name === null) return success(null);
  const found = STANDARDS.find(({ id }) => id === name);
  if (found !== undefined) return success(found);
  const ids = STANDARDS.map(({ id }) => id);
  const near = nearestWord(name, ids);
  return failure(
    errorProblem('usage-invalid', {
      message: `there is no standard ${name}`,
      received: name,
      hint:
        near === null ? `standards: ${ids.join(', ')}; --standard list says what each asks` : `did you mean ${near}?`,
    }),
  );
}

/** What each standard asks and where that comes from. */
export function standardsText(): string {
  return (
    STANDARDS.map(({ id, title, source, locator, recall, asks, notJudged }) =>
      [
        `${id}: ${title}`,
        ...asks.map((line) => `  - ${line}`),
        ...notJudged.map((line) => `  - not judged here: ${line}`),
        `  source: ${source}, ${locator} (${recall})`,
      ].join('\n'),
    ).join('\n\n') + '\n'
  );
}

/** The standard that is worked out, said and recorded with its source. */
export function sayStandard(standard: Standard, { diagnostics }: Workbench, log: RunLog): void {
  log.method({
    id: `standard-${standard.id}`,
    name: standard.title,
    source: { key: standard.source, locator: `${standard.locator} (${standard.recall})` },
  });
  diagnostics.say(`standard: ${standard.title}; ${standard.source}, ${standard.locator} (${standard.recall})`);
}
