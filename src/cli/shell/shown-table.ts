import type { OutputFormat } from '../../files/points/points-writer.js';
import type { Sink } from '../../io/bytes/sink.js';
import type { AskedView } from '../../io/tables/view/asked-view.js';
import { rowView } from '../../io/tables/view/row-view.js';
import { cellValue, rawCells } from '../../io/tables/view/split-rows.js';
import { viewTable } from '../../io/tables/view/view-table.js';
import type { Problem } from '../../records/problem.js';
import { viewOptions } from '../outputs/view-options.js';
import { flagOption, textOption } from './command-spec.js';
import type { Invocation } from './command-spec.js';
import { StopError, unwrap } from './stop.js';

/** The table of --output, shown as --select, --decimals, --sort and --for ask. */
export interface ShownTable {
  /** Reads what is asked for. Problems stop the run. */
  readonly ask: (warn: (problems: readonly Problem[]) => void) => void;
  readonly isAsked: () => boolean;
  /** Told of every output that is opened. */
  readonly opened: (path: string, sink: Sink) => Sink;
  /** Shows it, once all of it was written. Problems stop the run. */
  readonly show: () => Promise<void>;
}

/** The same sink, which stops the run at the header where that has not the columns that are asked for: before rows, where a command writes it first. */
function headerChecked(sink: Sink, asked: AskedView): Sink {
  let isChecked = false;
  return {
    ...sink,
    async write(content) {
      const [header] = isChecked || typeof content !== 'string' ? [] : (/^.+(?=\r?\n)/u.exec(content) ?? []);
      if (header !== undefined) {
        isChecked = true;
        unwrap(rowView(asked, rawCells(header.replace('\uFEFF', '')).map(cellValue)), () => undefined);
      }
      await sink.write(content);
    },
  };
}

/** A table that is shown as it is made until something else is asked for. */
export function createShownTable(invocation: Invocation, format: OutputFormat): ShownTable {
  const path = textOption(invocation, 'output') ?? '-';
  let table: Sink | null = null;
  let asked: AskedView | null = null;
  return {
    ask(warn) {
      asked = unwrap(viewOptions(invocation, format), warn);
    },
    isAsked: () => asked !== null,
    opened(own, sink) {
      if (own !== path) return sink;
      table = sink;
      return asked === null || format !== 'csv' ? sink : headerChecked(sink, asked);
    },
    async show() {
      if (asked === null || table === null) return;
      const viewed = viewTable(asked, { format, keepsHeader: !flagOption(invocation, 'omitHeader') });
      await table.rewrite(viewed.change);
      const problem = viewed.problem();
      if (problem !== null) throw new StopError([problem]);
    },
  };
}
