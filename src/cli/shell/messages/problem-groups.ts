import type { Problem } from '../../../records/problem.js';

/** Of one kind so many are shown whole. */
const SHOWN_OF_A_KIND = 3;
/** Kinds that are told apart; of more, only the bound over all of them counts. */
const MOST_KINDS = 1000;

interface Group {
  readonly problem: Problem;
  count: number;
  firstLine: number | null;
  lastLine: number | null;
}

/** Problems of one kind, gathered. */
export interface ProblemGroups {
  /** Takes a problem; false where it is one of many of its kind, and only counted. */
  readonly isShown: (problem: Problem) => boolean;
  /** One line for every kind of which some were not shown, in the order in which they began. */
  readonly lines: () => readonly string[];
  /** The same as a page says them: without the severity and the code. */
  readonly plainLines: () => readonly string[];
}

/**
 * Gathers problems of one kind: of the same code, in the same file and column, whose words are the same but for numbers, for what is
 * in quotes and for what was received. Six hundred bad cells of a column are one thing to mend.
 */
export function createProblemGroups(): ProblemGroups {
  const groups = new Map<string, Group>();
  const cut = (): readonly Group[] => [...groups.values()].filter(({ count }) => count > SHOWN_OF_A_KIND);
  return {
    isShown(problem) {
      const key = kindOf(problem);
      const group = groups.get(key) ?? { problem, count: 0, firstLine: null, lastLine: null };
      if (groups.size < MOST_KINDS) groups.set(key, group);
      group.count += 1;
      if (group.count <= SHOWN_OF_A_KIND) return true;
      const line = problem.where?.line ?? null;
      if (line === null) return false;
      group.firstLine = Math.min(group.firstLine ?? line, line);
      group.lastLine = Math.max(group.lastLine ?? line, line);
      return false;
    },
    lines: () =>
      cut().map((group) => {
        const { severity, code } = group.problem;
        return lineOf(group, severity === 'error' ? '' : `${severity}: `, ` [${code}]`);
      }),
    plainLines: () => cut().map((group) => lineOf(group, '', '')),
  };
}

function kindOf({ code, severity, message, received, where }: Problem): string {
  const plain = received === undefined || received === '' ? message : message.replaceAll(received, '…');
  const words = plain.replace(/"[^"]*"/gu, '…').replace(/\d[\d.,]*/gu, '#');
  // What a problem does not have is an empty part of its key.
  const path = where?.path?.replace(/\d+/gu, '#') ?? '';
  // As above.
  return [severity, code, where?.source ?? '', where?.column ?? '', path, words].join('\n');
}

function lineOf({ problem: { where }, count, firstLine, lastLine }: Group, before: string, after: string): string {
  const more = count - SHOWN_OF_A_KIND;
  const lines =
    firstLine === null || firstLine <= 0 || lastLine === null
      ? ''
      : firstLine === lastLine
        ? `, line ${String(firstLine)}`
        : `, lines ${String(firstLine)} to ${String(lastLine)}`;
  const column = where?.column === undefined ? '' : ` in ${where.column}`;
  return `${where?.source ?? 'pegbook'}: ${before}${String(more)} more like it${column}${lines}${after}`;
}
