import type { Sink } from '../../../io/bytes/output/sink.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import { explainWay } from '../../../tasks/transform/explain-transform.js';
import type { ExplainedWay } from '../../../tasks/transform/explain-transform.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';

/** The explanation of one point of a file that is carried over. */
export interface ExplainTarget {
  readonly way: ExplainedWay;
  readonly isShown: (pointId: string) => boolean;
  readonly begin: (pointId: string) => void;
  /** Keeps what the last point went through where it is the one asked for. */
  readonly take: (pointId: string, isCarried: boolean) => void;
  /** What was worked through so far. */
  readonly worked: readonly WorkedPoint[];
  /** Writes it; value-unknown-id where no such point was carried. */
  readonly write: (sink: Sink | null) => Promise<void>;
}

/** What --explain asks for; null without the option. */
export function explainTarget(bench: Workbench): ExplainTarget | null {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return null;
  const way = explainWay();
  const worked: WorkedPoint[] = [];
  return {
    way,
    isShown: (pointId) => pointId === wanted,
    begin(pointId) {
      way.begin(pointId === wanted);
    },
    take(pointId, isCarried) {
      if (pointId === wanted && isCarried) worked.push({ title: `Transformation of ${pointId}`, steps: way.steps() });
    },
    worked,
    async write(sink) {
      if (worked.length === 0) nothingToExplain(bench, wanted);
      await writeWorked(sink, worked);
    },
  };
}
