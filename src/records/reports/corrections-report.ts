import type { BroadcastCheck } from '../corrections/broadcast-check.js';
import type { CorrectionAudit } from '../corrections/correction-audit.js';
import type { LinkReport } from '../corrections/link-report.js';
import type { StreamCost } from '../corrections/stream-cost.js';
import type { Problem } from '../problem.js';
import type { Answer } from '../runs/run-answer.js';
import type { PageFacts } from './parts/page-facts.js';

/** Everything the page of recorded corrections says. */
export interface CorrectionsReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  /** Null: no stream was named. */
  readonly audit: CorrectionAudit | null;
  /** Null: the stream holds no time. */
  readonly cost: StreamCost | null;
  /** Bases of the session; null: neither a session nor a system was named. */
  readonly basesHeld: number | null;
  readonly checks: readonly BroadcastCheck[];
  /** How far each axis may lie from the session, metres. */
  readonly toleranceM: number;
  /** Null: no fixes were named. */
  readonly link: LinkReport | null;
  /** What is to be known of streams and link, each with its code. */
  readonly findings: readonly Problem[];
  readonly rowsSkipped: number;
}
