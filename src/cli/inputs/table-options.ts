import type { TableReading } from '../../files/table-reading.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { PositionChoice } from '../../tasks/join/one-position.js';
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
 * Reads the shared table options. `columns` of a session file count where --columns does not say
 * otherwise. Problems: usage-invalid, usage-conflict.
 */
export function tableOptions(
  invocation: Invocation,
  sessionColumns: Readonly<Record<string, string>>,
): Outcome<TableOptions> {
  const delimiterText = textOption(invocation, 'delimiter') ?? ',';
  const delimiter = delimiterText === '\\t' || delimiterText === 'tab' ? '\t' : delimiterText;
  if (delimiter.length !== 1 || delimiter === '"' || delimiter === '\n' || delimiter === '\r') {
    return failure(
      errorProblem('usage-invalid', {
        message: `--delimiter ${delimiterText} is not one character`,
        received: delimiterText,
        hint: "for example --delimiter ';' or --delimiter '\\t'",
      }),
    );
  }
  const decimalComma = flagOption(invocation, 'decimalComma');
  if (decimalComma && delimiter === ',') {
    return failure(
      errorProblem('usage-conflict', {
        message: '--decimal-comma needs another delimiter than the comma',
        hint: "add --delimiter ';'",
      }),
    );
  }
  const hasHeader = invocation.options.header !== false;
  const mapping: Record<string, string> = Object.assign(
    Object.create(null) as Record<string, string>,
    hasHeader ? sessionColumns : {},
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
          message: `--columns maps ${name} twice: to "${present(mapping[name], name)}" and to "${part.slice(at + 1)}"`,
          received: part,
          hint: 'keep one of the two',
        }),
      );
    named.add(name);
    mapping[name] = part.slice(at + 1);
  }
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
    dialect: {
      delimiter,
      comment: textOption(invocation, 'comment'),
      skipLines: numberOption(invocation, 'skipLines') ?? 0,
      hasHeader,
      decimalComma,
    },
    encoding: textOption(invocation, 'encoding'),
    mapping,
    onError,
    positionFrom: textOption(invocation, 'positionFrom'),
  });
}

/** Splits at commas that are followed by another NAME=, so that headers may hold commas. */
function splitMap(text: string): readonly string[] {
  return text.split(/,(?=[a-z_]+=)/u);
}
