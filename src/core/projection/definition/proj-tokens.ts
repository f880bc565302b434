import { failureOf, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem, type Problem } from '../../../records/problem.js';

/** The parameters of a PROJ string, in the order written; a parameter that stands alone has null. */
export type ProjTokens = ReadonlyMap<string, string | null>;

/**
 * A PROJ string taken apart: `+name` or `+name=value`, separated by spaces, each name once. A value
 * may stand in double quotes. `k` is stored as `k_0`, so that both together count as a repetition.
 *
 * Problems: system-definition-invalid, one for each part that cannot be read or is repeated.
 */
export function projTokens(text: string): Outcome<ProjTokens> {
  const tokens = new Map<string, string | null>();
  const problems: Problem[] = [];
  for (const part of text.trim().match(/(?:[^\s"]|"[^"]*")+/gu) ?? []) {
    const match = /^\+([A-Za-z]\w*)(?:=("[^"]*"|[^"]+))?$/u.exec(part);
    if (match === null) {
      problems.push(definitionProblem(`"${part}" is not of the form +name or +name=value`, text));
      continue;
    }
    const written = match[1] as string;
    const name = written === 'k' ? 'k_0' : written;
    if (tokens.has(name)) problems.push(definitionProblem(`+${written} is given twice`, text));
    tokens.set(name, match[2]?.replaceAll('"', '') ?? null);
  }
  return problems.length > 0 ? failureOf(problems) : success(tokens);
}

/** A problem with a PROJ string. */
export function definitionProblem(message: string, text: string, hint?: string): Problem {
  return errorProblem('system-definition-invalid', {
    message,
    received: text,
    ...(hint === undefined ? {} : { hint }),
  });
}
