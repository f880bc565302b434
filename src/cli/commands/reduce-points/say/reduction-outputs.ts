import type { Sink } from '../../../../io/bytes/output/sink.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Workbench } from '../../../shell/workbench.js';

/** Where a reduction writes to; null where nothing is asked for. */
export interface ReductionOutputs {
  readonly points: Sink | null;
  readonly explain: Sink | null;
  readonly epochs: Sink | null;
  readonly rejects: Sink | null;
}

/** The places of all outputs, proved usable before any work. With --explain and no --output, points are not written. */
export async function openOutputs(bench: Workbench): Promise<ReductionOutputs> {
  const { invocation } = bench;
  const output = textOption(invocation, 'output');
  const explain = textOption(invocation, 'explain') !== null;
  const epochs = textOption(invocation, 'epochs');
  const rejects = textOption(invocation, 'rejects');
  return {
    points: explain && output === null ? null : await bench.open(output ?? '-'),
    explain: explain ? await bench.open('-') : null,
    epochs: epochs === null ? null : await bench.open(epochs),
    rejects: rejects === null ? null : await bench.open(rejects),
  };
}
