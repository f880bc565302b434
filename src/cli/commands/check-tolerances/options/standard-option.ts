import { nearestWord } from '../../../../core/numeric/text/nearest-word.js';
import { STANDARDS } from '../../../../core/quality/standards/standards.js';
import type { Standard } from '../../../../core/quality/standards/standards.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';

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
