import {
  continuesOccupation,
  extendOccupation,
  isOutOfOrder,
  startOccupation,
} from '../../core/observation/occupation.js';
import type { OccupationState } from '../../core/observation/occupation.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { Fix } from '../../records/points/fix.js';
import { errorProblem, locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { RecordList } from '../../records/record-list.js';
import { poleDoubt, poleWarning } from '../check/pole-doubt.js';
import { checkFix } from '../check/check-fix.js';
import { chooseBase } from '../bases/choose-base.js';
import { mixed, repeated, sameEpoch, timelessProblem } from './epochs/epoch-doubts.js';
import { createPackedFixes } from './packing/fix-packing.js';
import { createOccupationCounter } from './occupations/occupation-counter.js';
import type { OccupationCounter } from './occupations/occupation-counter.js';
import { PACK } from './packing/packed-records.js';
import type { PackedRecords } from './packing/packed-records.js';
import { pointVerdict } from './occupations/point-verdict.js';
import { createPositioner } from '../join/position-point.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import { reduceOccupation } from './occupations/reduce-occupation.js';
import { createSingleTaker } from './single/reduce-single.js';
import type { SinglePoint } from './single/reduce-single.js';
import type { ReductionSetup } from './reduction-setup.js';
import type { ReducedOccupation } from './reduction-working.js';
import { entryAt } from '../../records/present.js';

/** What a reducer hands on: points as their occupations end, and problems with the rows they cost. */
export interface ReductionListener {
  readonly onPoint: (reduced: ReducedOccupation) => void;
  /** A point of one fix that nothing is said against, where its working is not asked for: it is taken at once, and not kept. Absent: all come to `onPoint`. */
  readonly onSingle?: (single: SinglePoint) => void;
  /** `fixes` are the rows that an error cost; empty for warnings. */
  readonly onProblems: (problems: readonly Problem[], fixes: RecordList<Fix>) => void;
  /** An occupation ended that is not to be reduced here: its first row and the time of its last, milliseconds. */
  readonly onPassed?: (first: Fix, lastMs: number | null) => void;
}

/** Takes fixes in file order and gives points as soon as each occupation ends. */
export interface Reducer {
  push(fixes: readonly Fix[]): void;
  /** The first fix of the occupation that has not ended, or null. */
  firstOpen(): Fix | null;
  /** Ends the last occupation. */
  finish(): void;
}

/** Says, as an occupation begins with this fix, whether it is to be reduced; one that is not is only counted. */
export type OwnsOccupation = (first: Fix) => boolean;

const OWNS_ALL: OwnsOccupation = () => true;
const NOTHING: readonly Fix[] = Object.freeze([]);

/**
 * The main job: epochs of an occupation are collected until something starts the next one, then
 * reduced and let go, so that memory holds one occupation and not the file. Those of a long one are packed from so many (`pack`) on.
 *
 * @example
 * // The invented day of examples/quillback-pan: what was planted in it is written down beside it (planted.csv).
 * const session = await readSessionFile('session.toml');
 * const { value: reduction } = await prepareReduction(session.value, ['fixes.csv']);
 * const reduced = [];
 * const reducer = createReducer(reduction.setup, { onPoint: (one) => reduced.push(one), onProblems: () => {} });
 * const { value: fixes } = await readFixesFile('fixes.csv', reduction);
 * for await (const block of fixes.blocks()) reducer.push(block.value.fixes);
 * reducer.finish();
 * const verdictOf = (id) => reduced.find(({ point }) => point.pointId === id).point.verdict;
 * verdictOf('C-01'); // 'accepted'
 * reduced.find(({ point }) => point.pointId === 'QP-23').point.reasons.includes('point-antenna-moving'); // true
 */
export function createReducer(
  setup: ReductionSetup,
  listener: ReductionListener,
  counter: Pick<OccupationCounter, 'next'> = createOccupationCounter(),
  owns: OwnsOccupation = OWNS_ALL,
  pack: number = PACK,
): Reducer {
  const positioner = createPositioner(setup);
  const takesSingle = createSingleTaker(setup, listener.onSingle);
  let state: OccupationState | null = null;
  let base: PreparedBase | null = null;
  let first: Fix | null = null;
  let fixes: Fix[] = [];
  let packed: PackedRecords<Fix> | null = null;
  let isOwn = true;
  /** The pole changed within a second as the open occupation began; as it ended. */
  let isPoleDoubtful = false;
  let last: Fix | null = null;
  let isTimelessSaid = false;
  let isPoleSaid = false;

  const close = (endsInDoubt = false): void => {
    if (first === null) return;
    const occupation = String(counter.next(first.pointId));
    const ended: RecordList<Fix> = packed ?? fixes;
    const begun = first;
    const lastMs = state?.lastMs ?? null;
    first = null;
    fixes = [];
    packed = null;
    state = null;
    if (!isOwn) {
      listener.onPassed?.(begun, lastMs);
      return;
    }
    if (ended.length === 1 && !isPoleDoubtful && !endsInDoubt && takesSingle(begun, base, occupation)) return;
    const problems: Problem[] = [];
    const reduced = reduceOccupation({ fixes: ended, base, occupation }, setup, positioner, problems);
    const failed = problems.some((problem) => problem.severity === 'error');
    if (problems.length > 0) listener.onProblems(problems, failed ? ended : NOTHING);
    const doubt = isPoleSaid ? null : poleDoubt(begun, setup.rover);
    if (doubt !== null) warn(poleWarning(begun, setup.rover, doubt), begun);
    isPoleSaid ||= doubt !== null;
    if (!failed) listener.onPoint(isPoleDoubtful || endsInDoubt ? poleDoubted(reduced) : reduced);
  };
  const keep = (fix: Fix): void => {
    if (packed === null) fixes.push(fix);
    else packed.push(fix);
    if (fixes.length < pack) return;
    packed = createPackedFixes();
    for (const loose of fixes) packed.push(loose);
    fixes = [];
  };
  const say = (problem: Problem, { place: { sourceIndex, line } }: Fix, refused: readonly Fix[]): void => {
    listener.onProblems([locateProblem(problem, { source: entryAt(setup.sources, sourceIndex), line })], refused);
  };
  const refuse = (problem: Problem, fix: Fix): void => say(problem, fix, [fix]);
  const warn = (problem: Problem, fix: Fix): void => say(problem, fix, NOTHING);

  return {
    push(batch) {
      for (const fix of batch) {
        const problem = checkFix(fix, setup.rover);
        if (problem !== null) {
          refuse(problem, fix);
          continue;
        }
        const chosen = chooseBase(fix, setup.bases);
        if (chosen !== null && 'code' in chosen) {
          refuse(chosen, fix);
          continue;
        }
        if (fix.epochCount === 1 && fix.epochMs === null) {
          const timeless = timelessProblem(fix, last);
          if (timeless.severity === 'error') {
            refuse(timeless, fix);
            continue;
          }
          if (!isTimelessSaid) warn(timeless, fix);
          isTimelessSaid = true;
        } else if (
          last !== null &&
          last.pointId === fix.pointId &&
          last.place.sourceIndex === fix.place.sourceIndex &&
          last.epochMs === null &&
          last.epochCount === 1 &&
          fix.epochCount === 1
        ) {
          refuse(mixed(fix), fix);
          continue;
        }
        if (
          last !== null &&
          last.epochMs !== null &&
          last.epochMs === fix.epochMs &&
          last.pointId === fix.pointId &&
          last.epochCount === 1 &&
          fix.epochCount === 1
        ) {
          const isSame = sameEpoch(last, fix);
          if (isSame) warn(repeated(fix, true), fix);
          else refuse(repeated(fix, false), fix);
          continue;
        }
        if (state !== null && isOutOfOrder(state, fix)) {
          refuse(outOfOrder(fix, state.lastMs), fix);
          continue;
        }
        last = fix;
        const baseId = chosen?.settings.id ?? fix.baseId;
        const poleLengthM = fix.poleLengthM ?? setup.rover.poleLengthM;
        if (
          state !== null &&
          chosen === base &&
          continuesOccupation(state, fix, setup.acceptance.occupationGapS, baseId, poleLengthM)
        ) {
          extendOccupation(state, fix);
          // Of an occupation that is only counted, its first epoch is enough.
          if (isOwn) keep(fix);
        } else {
          const isAtOnce = state !== null && poleChangedAtOnce(state, fix, poleLengthM);
          close(isAtOnce);
          isPoleDoubtful = isAtOnce;
          state = startOccupation(fix, baseId, poleLengthM);
          base = chosen;
          isOwn = owns(fix);
          first = fix;
          fixes = [fix];
        }
      }
    },
    firstOpen: () => first,
    finish: () => close(),
  };
}

/** A pole takes longer to change than this, seconds. */
const POLE_CHANGE_S = 1;

/** Whether the length of the pole differs from the row before, of the same point and no more than a second ago. */
function poleChangedAtOnce(
  { pointId, poleLengthM: before, lastMs }: OccupationState,
  fix: Fix,
  poleLengthM: number | null,
): boolean {
  return (
    pointId === fix.pointId &&
    before !== null &&
    poleLengthM !== null &&
    before !== poleLengthM &&
    lastMs !== null &&
    fix.epochMs !== null &&
    fix.epochMs - lastMs <= 1000 * POLE_CHANGE_S
  );
}

function poleDoubted(reduced: ReducedOccupation): ReducedOccupation {
  const reasons: readonly ProblemCode[] = [...reduced.point.reasons, 'point-pole-changed-at-once'];
  return { ...reduced, point: { ...reduced.point, reasons, verdict: pointVerdict(reasons) } };
}

function said(epochMs: number | null): string {
  return epochMs === null ? 'an epoch' : formatUtc(epochMs);
}

function outOfOrder(fix: Fix, lastMs: number | null): Problem {
  return errorProblem('time-out-of-order', {
    message: `${said(fix.epochMs)} of point ${fix.pointId} is earlier than the row before it${lastMs === null ? '' : `, ${formatUtc(lastMs)}`}`,
    received: said(fix.epochMs),
    where: { column: 'epoch_utc' },
    hint: 'sort the file by time within each point, or check the clock',
  });
}
