import type { Sink } from '../../../../io/bytes/output/sink.js';
import { textOption } from '../../../shell/command-spec.js';
import type { TextOption } from '../../../shell/command-spec.js';
import { TIMETABLE_COLUMNS } from './timetable-columns.js';
import type { Workbench } from '../../../shell/workbench.js';

/** The outputs of a plan; null where one is not asked for. */
export interface PlanOutputs {
  readonly points: Sink | null;
  readonly explain: Sink | null;
  readonly coverage: Sink | null;
  readonly timetable: Sink | null;
  readonly rejects: Sink | null;
}

/** The places of all outputs, proved usable before any work. With --explain and no --output, points are not written. */
export async function openPlanOutputs(bench: Workbench): Promise<PlanOutputs> {
  const option = (name: TextOption): string | null => textOption(bench.invocation, name);
  const output = option('output');
  const explain = option('explain') !== null;
  const open = async (path: string | null): Promise<Sink | null> => (path === null ? null : bench.open(path));
  bench.columns(
    TIMETABLE_COLUMNS.map(({ name }) => name),
    'timetable',
  );
  return {
    points: await open(explain && output === null ? null : (output ?? '-')),
    explain: await open(explain ? '-' : null),
    coverage: await open(option('coverage')),
    timetable: await open(option('timetable')),
    rejects: await open(option('rejects')),
  };
}
