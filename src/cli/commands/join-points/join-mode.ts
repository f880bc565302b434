import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { OutputFormat } from '../../../files/points/points-writer.js';
import type { AngleForm } from '../../../io/tables/columns/cells/cell-text.js';
import { flagOption, isGiven, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';

/** What is computed. */
export type JoinMode = 'lines' | 'polar' | 'area';

/** What a run is asked for. */
export interface JoinAsked {
  readonly mode: JoinMode;
  readonly form: AngleForm;
  readonly explain: boolean;
}

/** What is asked for, from the options. Problems: usage-invalid for nothing, usage-conflict for what does not go together. */
export function joinAsked(invocation: Invocation, format: OutputFormat): Outcome<JoinAsked> {
  const mode = modeOf(invocation);
  if (!mode.ok) return mode;
  const form = textOption(invocation, 'angles') === 'dms' ? 'dms' : 'degrees';
  if (form === 'dms' && format === 'geojson')
    return conflict('GeoJSON holds decimal degrees', 'leave out --angles dms, or write CSV');
  const explain = flagOption(invocation, 'explain');
  if (explain && mode.value !== 'lines')
    return conflict(
      '--explain works lines through, not points or areas',
      'give it with --from, --pairs or --consecutive',
    );
  return success({ mode: mode.value, form, explain });
}

/** Exactly one thing is asked for. */
function modeOf(invocation: Invocation): Outcome<JoinMode> {
  const asked: (readonly [string, JoinMode])[] = [];
  if (textOption(invocation, 'from') !== null) asked.push(['--from', 'lines']);
  if (textOption(invocation, 'pairs') !== null) asked.push(['--pairs', 'lines']);
  if (flagOption(invocation, 'consecutive')) asked.push(['--consecutive', 'lines']);
  if (textOption(invocation, 'polar') !== null) asked.push(['--polar', 'polar']);
  if (isGiven(invocation, 'area')) asked.push(['--area', 'area']);
  const [only, another] = asked;
  if (textOption(invocation, 'to') !== null && textOption(invocation, 'from') === null)
    return conflict('--to needs --from', 'for example --from A --to B');
  if (only === undefined)
    return failure(
      errorProblem('usage-invalid', {
        message: 'nothing is asked for',
        hint: 'give --from ID [--to ID], --pairs FILE, --consecutive, --polar FILE or --area ID,ID,ID',
      }),
    );
  if (another !== undefined)
    return conflict(`${only[0]} and ${another[0]} exclude each other`, 'run the command once for each');
  return success(only[1]);
}

function conflict(message: string, hint: string): Outcome<never> {
  return failure(errorProblem('usage-conflict', { message, hint }));
}
