import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { entryAt } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import { SOLUTION_WORDS } from '../../io/tables/fixes/fix-words.js';
import { readSession } from '../../io/settings/session-read.js';
import { applyAnswers } from '../../tasks/draft/apply-answers.js';
import type { Answers, Draft } from '../../tasks/draft/draft-line.js';
import { draftOfLog } from '../../tasks/draft/draft-log.js';
import type { AxisPair } from '../../tasks/draft/draft-position.js';
import { draftOfTable } from '../../tasks/draft/draft-session.js';
import { draftText } from '../../tasks/draft/draft-text.js';
import type { DraftText } from '../../tasks/draft/draft-text.js';
import { loadFixesSystem } from '../systems/load-systems.js';
import { axisNames } from '../points/open-points.js';
import type { FixInputKind } from '../reduction/open-fixes.js';
import type { Surroundings } from '../surroundings.js';
import { outsideArea } from './outside-area.js';
import { readDraftSource } from './read-draft-source.js';
import type { DraftSource } from './read-draft-source.js';
import { systemCandidates } from './system-candidates.js';

/** A drafted session of some files. */
export interface DraftedFiles extends DraftText {
  readonly draft: Draft;
  readonly sources: readonly DraftSource[];
}

/**
 * Drafts a session from files of fixes that are written alike.
 * Given: their paths; their kind, null: by name or first character; answers. Returned: the draft; one that asks nothing more has been read as a
 * session. Problems: those of the files; usage-conflict for files that are not written alike; those of a session that answers spoilt.
 */
export async function draftFiles(
  paths: readonly string[],
  stated: FixInputKind | null,
  answers: Answers,
  surroundings: Surroundings,
): Promise<Outcome<DraftedFiles>> {
  const sources: DraftSource[] = [];
  for (const path of paths) {
    const source = await readDraftSource(path, stated, surroundings);
    if (!source.ok) return source;
    const other = sources[0];
    if (other !== undefined && !isAlike(other, source.value)) return failure(notAlike(other.name, source.value.name));
    sources.push(source.value);
  }
  const axes = answeredAxes(answers);
  if (!axes.ok) return axes;
  const applied = applyAnswers(draftOf(sources, axes.value, answers), answers);
  if (!applied.ok) return applied;
  const draft = applied.value;
  const made = draftText(
    draft,
    sources.map(({ name }) => name),
  );
  const session = made.asked.length > 0 ? null : readSession(made.text, 'the draft');
  if (session?.ok === false) return session;
  const grid = answers.get('system.grid');
  const doubts = draft.box === null || typeof grid !== 'string' ? [] : outsideArea(draft.box, grid);
  return success({ ...made, draft, sources }, doubts);
}

function draftOf(sources: readonly DraftSource[], axes: AxisPair | null, answers: Answers): Draft {
  const first = entryAt(sources, 0);
  if (first.table === null)
    return draftOfLog(
      sources.flatMap(({ fixes }) => fixes ?? []),
      { candidates: systemCandidates, answers },
    );
  return draftOfTable(
    { ...first.table, rows: sources.flatMap(({ table }) => table?.rows ?? []) },
    { candidates: systemCandidates, solutionWords: SOLUTION_WORDS, axes, answers },
  );
}

/** One session has one map of columns. */
function isAlike(a: DraftSource, b: DraftSource): boolean {
  if (a.kind !== b.kind) return false;
  if (a.table === null || b.table === null) return a.table === b.table;
  const written = ({ dialect, encoding }: NonNullable<DraftSource['table']>): string =>
    JSON.stringify([
      dialect?.delimiter,
      dialect?.decimalMark,
      dialect?.skipLines,
      dialect?.rowsUnderHeader,
      encoding?.encoding,
    ]);
  return (
    a.table.header.join('\n') === b.table.header.join('\n') &&
    (a.kind === 'geojson' || written(a.table) === written(b.table))
  );
}

function notAlike(a: string, b: string): ReturnType<typeof errorProblem> {
  return errorProblem('usage-conflict', {
    message: `${b} is written another way than ${a}: other headers, delimiter, decimal mark or encoding`,
    where: { source: b },
    hint: 'draft a session for each way of writing',
  });
}

/** The axes of the system that an answer names for fixes that are grid coordinates. */
function answeredAxes(answers: Answers): Outcome<AxisPair | null> {
  const named = answers.get('system.fixes') ?? answers.get('system.grid');
  if (typeof named !== 'string') return success(null);
  const system = loadFixesSystem(named);
  return system.ok ? success(axisNames(system.value.grid)) : system;
}
