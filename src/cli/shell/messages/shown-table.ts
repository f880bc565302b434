import type { OutputFormat } from '../../../files/points/points-writer.js';
import type { Sink } from '../../../io/bytes/output/sink.js';
import type { AskedView } from '../../../io/tables/view/asked-view.js';
import { rowView } from '../../../io/tables/view/row-view.js';
import { cellValue, rawCells } from '../../../io/tables/view/split-rows.js';
import { viewTable } from '../../../io/tables/view/view-table.js';
import type { Problem } from '../../../records/problem.js';
import { viewOptions } from '../../outputs/view-options.js';
import type { AskedViews } from '../../outputs/view-options.js';
import { flagOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import { formatOfTable, pathOfTable } from '../run/side-tables.js';
import type { RunTable } from '../run/side-tables.js';
import { StopError, unwrap } from '../run/stop.js';

/** The tables of a run, shown as --select, --decimals, --sort and --for ask. */
export interface ShownTable {
  /** Reads what is asked for. Problems stop the run. */
  readonly ask: (warn: (problems: readonly Problem[]) => void) => void;
  readonly isAsked: (table?: RunTable) => boolean;
  /** Told of the columns of a table as soon as they are known. A column that is asked for and is none of them stops the run. */
  readonly columns: (names: readonly string[], table?: RunTable) => void;
  /** Told of every output that is opened. */
  readonly opened: (path: string, sink: Sink) => Sink;
  /** Shows them, once all of them was written. Problems stop the run. */
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

/** Tables that are shown as they are made until something else is asked for. */
export function createShownTable(invocation: Invocation, format: OutputFormat): ShownTable {
  const opened: { readonly sink: Sink; readonly asked: AskedView; readonly format: OutputFormat }[] = [];
  let views: AskedViews = new Map();
  return {
    ask(warn) {
      views = unwrap(viewOptions(invocation, format), warn);
    },
    isAsked: (table = 'output') => views.has(table),
    columns(names, table = 'output') {
      const asked = views.get(table);
      const path = pathOfTable(table, invocation);
      if (asked === undefined || path === null) return;
      const own = formatOfTable(table, format, path) === 'geojson' ? [...names, ...GEOJSON_MEMBERS] : names;
      unwrap(rowView(asked, own), () => undefined);
    },
    opened(path, sink) {
      for (const [table, asked] of views) {
        if (pathOfTable(table, invocation) !== path) continue;
        const own = formatOfTable(table, format, path);
        opened.push({ sink, asked, format: own });
        return own === 'csv' ? headerChecked(sink, asked) : sink;
      }
      return sink;
    },
    async show() {
      for (const { sink, asked, format: own } of opened) {
        const viewed = viewTable(asked, { format: own, keepsHeader: !flagOption(invocation, 'omitHeader') });
        await sink.rewrite(viewed.change);
        const problem = viewed.problem();
        if (problem !== null) throw new StopError([problem]);
      }
    },
  };
}

/** What GeoJSON says of the frame with every row, beside the columns of a table. */
const GEOJSON_MEMBERS: readonly string[] = ['frame', 'frame_epoch_year', 'system'];
