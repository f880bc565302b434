import type { Problem } from '../../../records/problem.js';
import type { PointInput } from '../../../io/tables/points/points-read.js';
import { errorProblem } from '../../../records/problem.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { TableOptions } from '../../inputs/table-options.js';
import type { Workbench } from '../../shell/workbench.js';

/** Where a file gives no coordinates in plan: the columns that may hold them and are not ours. */
export function unknownColumnLines(input: PointInput, name: string, kind: 'control' | 'design'): readonly string[] {
  if (input.axes !== null || input.has('latitude_deg') || input.passThroughNames.length === 0) return [];
  return [
    `  ${name} has no coordinates in plan; not known are its columns ${input.passThroughNames.slice(0, 8).join(', ')}: map them with --${kind}-columns`,
  ];
}

/** How the control or the design is read: as the points, with column names of its own; --no-header holds for it where these are given. */
export function otherTables({ invocation, take }: Workbench, kind: 'control' | 'design'): TableOptions {
  const columns = invocation.options[`${kind}Columns`];
  const header = columns === undefined ? {} : { header: invocation.options.header };
  const { header: _, ...rest } = invocation.options;
  return take(tableOptions({ ...invocation, options: { ...rest, ...header, columns, rejects: undefined } }, {}));
}

/** csv-axes-mismatch where two files without a system name other axes; null where they do not. */
export function otherAxes(
  main: { readonly input: PointInput; readonly name: string },
  input: PointInput,
  name: string,
): Problem | null {
  const axes = main.input.axes;
  if (input.axes === null || axes === null || input.axes.join() === axes.join()) return null;
  return errorProblem('csv-axes-mismatch', {
    message: `${name} has ${input.axes.join(', ')} and ${main.name} has ${axes.join(', ')}`,
    where: { source: name },
    hint: 'name the system with --system, and transform one of the files',
  });
}
