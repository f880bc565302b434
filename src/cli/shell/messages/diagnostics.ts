import type { Problem, Severity } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { AcknowledgedWarning } from '../../../io/documents/run-record.js';
import type { Context } from '../context.js';
import { createAcknowledged } from './acknowledged.js';
import { createPageWarnings } from './page-warnings.js';
import { placeText } from './place-text.js';
import { createProblemGroups } from './problem-groups.js';
import type { Colour } from './colour.js';
import { clippedText, visibleText } from './visible-text.js';

const SHOWN = 20;

/** Where messages go: problems as they are found, and plain lines of progress and summary. */
export interface Diagnostics {
  /** Takes problems: the first three of each kind and the first twenty of each severity are shown, all are counted and kept on request. */
  report(problems: readonly Problem[]): void;
  /** A line for people; nothing with `--quiet`. */
  say(line: string): void;
  /** A line only with `--verbose`. */
  detail(line: string): void;
  /** From here on warnings and notes of these codes are said in one line each, with the reason given. */
  acknowledge(reasons: Readonly<Record<string, string>>): void;
  /** Those that came, with how often. */
  readonly acknowledged: () => readonly AcknowledgedWarning[];
  /**
   * Prints how many more of each kind, and of each code, there were, and what was acknowledged; what changed a verdict is shown all the
   * same. Call once, last. Given: the codes that rows carry.
   */
  close(reasons: ReadonlySet<string>): void;
  /** The warnings for a page, without their hints: of each kind the first, and how many more like them; sixty of all kinds. On the page of one point without those of others. */
  readonly warnings: () => readonly string[];
  readonly counts: ReadonlyMap<ProblemCode, number>;
  readonly errorCount: () => number;
  /** The first error seen, for the exit code. */
  readonly firstError: () => Problem | null;
}

/** One problem in the house's form: place, message, code, then an indented hint. */
export function problemText(problem: Problem, colour: Colour): string {
  const place = shown(placeText(problem.where));
  const word = severityWord(problem.severity, colour);
  const line = `${place === '' ? 'pegbook' : place}: ${word}${shown(problem.message)} [${problem.code}]`;
  return problem.hint === undefined ? line : `${line}\n    ${shown(problem.hint)}`;
}

function shown(text: string): string {
  return visibleText(clippedText(text));
}

/** The same problem without texts of any length: a hostile cell can be as long as a file. */
function clipped(problem: Problem): Problem {
  const { message, received } = problem;
  return {
    ...problem,
    message: clippedText(message),
    ...(received !== undefined && { received: clippedText(received) }),
  };
}

function severityWord(severity: Severity, colour: Colour): string {
  switch (severity) {
    case 'error':
      return '';
    case 'warning':
      return colour.yellow('warning: ');
    case 'note':
      return 'note: ';
  }
}

/** Messages on standard error; `onProblem` sees every problem, shown or not. */
export function createDiagnostics(
  context: Context,
  settings: {
    readonly quiet: boolean;
    readonly verbose: boolean;
    readonly colour: Colour;
    readonly json: boolean;
    /** The point that a page is of; absent or null: of the whole run. */
    readonly onlyPoint?: string | null;
  },
  onProblem: (problem: Problem) => void = () => undefined,
): Diagnostics {
  const counts = new Map<ProblemCode, number>();
  const hidden = new Map<ProblemCode, number>();
  const groups = createProblemGroups();
  const shown: Record<Severity, number> = { error: 0, warning: 0, note: 0 };
  const onPage = createPageWarnings(settings.onlyPoint ?? null); // Absent: of the whole run.
  const known = createAcknowledged();
  let errors = 0;
  let first: Problem | null = null;
  const write = (text: string): void => {
    context.stderr.write(`${text}\n`);
  };
  return {
    counts,
    warnings: onPage.lines,
    errorCount: () => errors,
    firstError: () => first,
    report(problems) {
      for (const long of problems) {
        const problem = clipped(long);
        onPage.take(problem);
        onProblem(problem);
        counts.set(problem.code, (counts.get(problem.code) ?? 0) + 1);
        if (problem.severity === 'error') {
          errors += 1;
          first ??= problem;
        } else if (settings.quiet || known.takes(problem)) continue;
        // A program that reads messages takes each by itself.
        if (!settings.json && !groups.isShown(problem)) continue;
        shown[problem.severity] += 1;
        if (shown[problem.severity] <= SHOWN)
          write(settings.json ? visibleText(JSON.stringify(problem)) : problemText(problem, settings.colour));
        else hidden.set(problem.code, (hidden.get(problem.code) ?? 0) + 1);
      }
    },
    say(line) {
      if (!settings.quiet) write(visibleText(line));
    },
    detail(line) {
      if (settings.verbose && !settings.quiet) write(visibleText(line));
    },
    acknowledge: known.add,
    acknowledged: known.found,
    close(reasons) {
      for (const problem of known.heldOf(reasons)) write(problemText(problem, settings.colour));
      for (const line of settings.quiet ? [] : known.lines(reasons)) write(visibleText(line));
      for (const line of groups.lines()) write(visibleText(line));
      for (const [code, count] of hidden) write(`pegbook: ${count} more ${code}`);
    },
  };
}
