import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { jsonFaultPosition } from './json-fault-position.js';

/**
 * A JSON document of ours as a value.
 * Given: its text; its name for people. Problems: config-syntax, with the line where the text stops being JSON (RFC 8259).
 */
export function parseJson(text: string, source: string): Outcome<unknown> {
  try {
    return success(JSON.parse(text) as unknown);
  } catch {
    // What the engine refuses and the grammar admits is placed at its beginning.
    const at = jsonFaultPosition(text) ?? 0;
    const message = at === text.length ? 'is not valid JSON: it ends too early' : 'is not valid JSON here';
    return failure(
      errorProblem('config-syntax', {
        message,
        where: { source, line: lineAt(text, at) },
        hint: 'give the file as it was written',
      }),
    );
  }
}

function lineAt(text: string, position: number): number {
  let line = 1;
  for (let at = text.indexOf('\n'); at >= 0 && at < position; at = text.indexOf('\n', at + 1)) line += 1;
  return line;
}
