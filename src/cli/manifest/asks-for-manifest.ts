import { isGiven } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';

/** Whether a command line asks for runs of a manifest. */
export function asksForManifest(invocation: Invocation): boolean {
  return (['manifest', 'index', 'count', 'status'] as const).some((name) => isGiven(invocation, name));
}
