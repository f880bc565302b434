import { readingText } from '../../../../records/settings/column-reading.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';
import type { TableOptions } from '../../../inputs/table-options.js';
import type { RunLog } from '../../../shell/run/run-log.js';

/** What the record says of how tables were read: the map of columns, and of the rest what a session says. `day`: of a job; null: of none. */
export function logTables(
  log: RunLog,
  { mapping }: TableOptions,
  { session, origins }: ResolvedSession,
  day: string | null,
): void {
  const place = day === null ? '' : `day.${day}.`;
  for (const [name, source] of Object.entries(mapping)) {
    const isSessions = session.columns[name] === source;
    log.setting(`${place}columns.${name}`, readingText(source), isSessions ? 'session file' : 'command line');
  }
  for (const [key, value] of Object.entries(session.table)) {
    const name = `table.${key.replace(/[A-Z]/gu, (letter) => `_${letter.toLowerCase()}`)}`;
    if (origins[name] !== undefined) log.setting(`${place}${name}`, value, 'session file');
  }
}
