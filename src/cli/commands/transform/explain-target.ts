import type { Sink } from '../../../io/bytes/output/sink.js';
import { workingText } from '../../../tasks/explain/explain-point.js';
import { explainWay } from '../../../tasks/transform/explain-transform.js';
import type { ExplainedWay } from '../../../tasks/transform/explain-transform.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';

/** The explanation of one point of a file that is carried over. */
export interface ExplainTarget {
  readonly way: ExplainedWay;
  readonly begin: (pointId: string) => void;
  /** Keeps what the last point went through where it is the one asked for. */
  readonly take: (pointId: string, isCarried: boolean) => void;
  readonly write: (sink: Sink | null) => Promise<void>;
}

/** What --explain asks for; null without the option. */
export function explainTarget(bench: Workbench): ExplainTarget | null {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return null;
  const way = explainWay();
  const texts: string[] = [];
  return {
    way,
    begin(pointId) {
      way.begin(pointId === wanted);
    },
    take(pointId, isCarried) {
      if (pointId === wanted && isCarried) texts.push(workingText(`Transformation of ${pointId}`, way.steps()));
    },
    async write(sink) {
      if (texts.length === 0) nothingToExplain(bench, wanted);
      await sink?.write(texts.join(''));
    },
  };
}
