import type { Sink } from '../../io/bytes/output/sink.js';
import type { WorkedPoint } from '../../records/working-step.js';
import { workingText } from '../../tasks/explain/explain-point.js';

/** Writes what was worked through for --explain. */
export async function writeWorked(sink: Sink | null, worked: readonly WorkedPoint[]): Promise<void> {
  for (const { title, steps } of worked) await sink?.write(workingText(title, steps));
}
