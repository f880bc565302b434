import type { TableReading } from '../../files/tables/table-reading.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { PositionChoice } from '../../tasks/join/one-position.js';
import { readColumnOption } from '../../io/settings/session-columns.js';
import type { CsvDialect } from '../../io/csv/csv-dialect.js';
import { oneCharacter, sessionDialect } from '../../files/sessions/session-dialect.js';
import type { Session, TableSettings } from '../../records/session.js';
import { readingText } from '../../records/settings/column-reading.js';
import type { ColumnMapping, ColumnReading } from '../../records/settings/column-reading.js';
import { flagOption, listOption, numberOption, textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';
import { present } from '../../records/present.js';

/** How tables are read, from the shared options. */
export interface TableOptions extends TableReading {
  readonly onError: 'stop' | 'skip';
  /** Which position counts where a row has two. */
  readonly positionFrom: PositionChoice;
}

/**
 * Reads the shared table options. What a session file says of tables counts where the options do not say
 * otherwise. Problems: usage-invalid, usage-conflict; config-invalid-value for a delimiter of the session.
 */
export function tableOptions(invocation: Invocation, session: SessionTables | null): Outcome<TableOptions> {
  const said = session === null ? null : session.table;
  const dialect = dialectOf(invocation, said);
  if (!dialect.ok) return dialect;
  const { hasHeader } = dialect.value;
  const isSessionsKind = said === null || (said.columnsBy === 'header') === hasHeader;
  const mapped = mappingOf(invocation, session !== null && isSessionsKind ? session.columns : {});
  if (!mapped.ok) return mapped;
  const mapping = mapped.value;
  if (!hasHeader && Object.keys(mapping).length === 0) {
    return failure(
      errorProblem('usage-conflict', {
        message: '--no-header needs --columns with positions',
        hint: 'for example --columns point_id=1,latitude_deg=2,longitude_deg=3,ellipsoidal_height_m=4',
      }),
    );
  }
  const onError = textOption(invocation, 'onError') === 'skip' ? 'skip' : 'stop';
  if (textOption(invocation, 'rejects') !== null && onError === 'stop') {
    return failure(
      errorProblem('usage-conflict', {
        message: '--rejects needs --on-error skip',
        hint: 'with --on-error stop nothing is written when a row is bad',
      }),
    );
  }
  return success({
    dialect: dialect.value,
    encoding: textOption(invocation, 'encoding') ?? said?.encoding ?? null,
    mapping,
    solution: said?.solution ?? null,
    onError,
    positionFrom: textOption(invocation, 'positionFrom'),
  });
}

/** What a session says of the tables of its fixes. */
export type SessionTables = Pick<Session, 'columns' | 'table'>;

/** As the session says, with the options laid over it. */
function dialectOf(invocation: Invocation, said: TableSettings | null): Outcome<CsvDialect> {
  const given = textOption(invocation, 'delimiter');
  const comma = flagOption(invocation, 'decimalComma');
  if (given !== null && oneCharacter(given) === null)
    return failure(
      errorProblem('usage-invalid', {
        message: `--delimiter ${given} is not one character`,
        received: given,
        hint: "for example --delimiter ';' or --delimiter '\\t'",
      }),
    );
  const delimiter = given ?? said?.delimiter ?? ',';
  if (comma && oneCharacter(delimiter) === ',')
    return failure(
      errorProblem('usage-conflict', {
        message: '--decimal-comma needs another delimiter than the comma',
        hint: "add --delimiter ';'",
      }),
    );
  return sessionDialect({
    delimiter,
    decimalMark: comma ? ',' : (said?.decimalMark ?? '.'),
    encoding: null,
    comment: textOption(invocation, 'comment') ?? said?.comment ?? null,
    // Nothing is skipped unless that is said.
    skipLines: numberOption(invocation, 'skipLines') ?? said?.skipLines ?? 0,
    // Nor is there a row of units.
    rowsUnderHeader: said?.rowsUnderHeader ?? 0,
    solution: said?.solution ?? null,
    columnsBy: invocation.options.header === false ? 'position' : (said?.columnsBy ?? 'header'),
  });
}

/** The columns of --columns laid over those of the session. */
function mappingOf(invocation: Invocation, columns: ColumnMapping): Outcome<ColumnMapping> {
  const mapping: Record<string, string | ColumnReading> = Object.assign(
    Object.create(null) as Record<string, string | ColumnReading>,
    columns,
  );
  const named = new Set<string>();
  for (const part of listOption(invocation, 'columns').flatMap((text) => splitMap(text))) {
    const at = part.indexOf('=');
    if (at < 1) {
      return failure(
        errorProblem('usage-invalid', {
          message: `--columns ${part} is not NAME=HEADER`,
          received: part,
          hint: 'for example --columns point_id=Station,ellipsoidal_height_m=Height',
        }),
      );
    }
    const name = part.slice(0, at).trim();
    if (named.has(name))
      return failure(
        errorProblem('usage-conflict', {
          message: `--columns maps ${name} twice: to "${readingText(present(mapping[name], name))}" and to "${part.slice(at + 1)}"`,
          received: part,
          hint: 'keep one of the two',
        }),
      );
    named.add(name);
    const source = readColumnOption(name, part.slice(at + 1), '--columns');
    if (!source.ok) return source;
    mapping[name] = source.value;
  }
  return success(mapping);
}

/** Splits at commas outside of braces that are followed by another NAME=, so that headers may hold commas. */
function splitMap(text: string): readonly string[] {
  const parts: string[] = [];
  let depth = 0;
  let from = 0;
  for (let at = 0; at < text.length; at += 1) {
    const letter = text[at];
    if (letter === '{') depth += 1;
    else if (letter === '}') depth -= 1;
    else if (letter === ',' && depth <= 0 && /^[a-z_]+=/u.test(text.slice(at + 1))) {
      parts.push(text.slice(from, at));
      from = at + 1;
    }
  }
  return [...parts, text.slice(from)];
}
