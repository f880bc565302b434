import { column } from './columns/column.js';
import type { Column } from './columns/column.js';

/** What a file of candidates says of a place beside its position; null: not known. */
export interface CandidateAttributes {
  readonly cellular: boolean | null;
  readonly skyScore: number | null;
  readonly cost: number | null;
}

/** The columns of a file of candidates beside those of points. */
export const CANDIDATE_COLUMNS: readonly Column<CandidateAttributes>[] = [
  column({
    name: 'cellular',
    kind: 'yes-no',
    put: (row, cellular) => (row.cellular = cellular),
    describe: 'whether the mobile network reaches the place',
  }),
  column({
    name: 'sky_score',
    kind: 'number',
    put: (row, skyScore) => (row.skyScore = skyScore),
    describe: 'openness of the sky on any scale, larger is better',
  }),
  column({
    name: 'cost',
    kind: 'number',
    put: (row, cost) => (row.cost = cost),
    describe: 'cost of the place in any unit, smaller is better',
  }),
];
