import type { Outcome } from '../../../../records/outcome.js';
import { tableOptions } from '../../../inputs/table-options.js';
import type { TableOptions } from '../../../inputs/table-options.js';
import type { Workbench } from '../../../shell/workbench.js';

/** How the control or the design is read: as the points, with column names of its own; --no-header holds for it where these are given. */
export function otherTables({ invocation }: Workbench, kind: 'control' | 'design'): Outcome<TableOptions> {
  const columns = invocation.options[`${kind}Columns`];
  const header = columns === undefined ? {} : { header: invocation.options.header };
  const { header: _, ...rest } = invocation.options;
  return tableOptions({ ...invocation, options: { ...rest, ...header, columns, rejects: undefined } }, null);
}
