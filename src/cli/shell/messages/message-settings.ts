import type { OutputFormat } from '../../../files/points/points-writer.js';
import { flagOption, textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import type { Context } from '../context.js';
import { colourFor } from './colour.js';
import type { createDiagnostics } from './diagnostics.js';

/** How messages are written, by the options of a run. */
export function messageSettings(
  invocation: Invocation,
  context: Context,
  format: OutputFormat,
): Parameters<typeof createDiagnostics>[1] {
  return {
    quiet: flagOption(invocation, 'quiet'),
    verbose: flagOption(invocation, 'verbose'),
    colour: colourFor(context, invocation.options.color !== false),
    json: format === 'json' || format === 'jsonl',
    onlyPoint: textOption(invocation, 'explain'),
  };
}
