import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { StandingFile } from './judge-files.js';
import type { LedgerChange } from './ledger-change.js';

/** The answer of a job held against its ledger: no where anything changed; counts are of files. */
export function verifiedAnswer(standing: readonly StandingFile[], changes: readonly LedgerChange[]): RunAnswer {
  const reasons = new Map<string, number>();
  for (const { code } of changes) reasons.set(code, (reasons.get(code) ?? 0) + 1);
  const files = new Set(standing.map(({ name }) => name)).size;
  const changed = new Set(changes.flatMap(({ name }) => name ?? [])).size;
  return {
    answer: changes.length === 0 ? 'within' : 'no',
    verdicts: new Map([
      ['within', files - changed],
      ['no', changed],
    ]),
    reasons,
  };
}
