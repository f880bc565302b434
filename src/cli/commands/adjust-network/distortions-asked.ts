import { pushAll } from '../../../core/numeric/push-all.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { DistortionKind, DistortionSearch } from '../../../core/network/distortions/distortion.js';
import type { Network } from '../../../core/network/network.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { NetworkResults } from '../../../tasks/network/network-results.js';
import { isGiven, listOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';

/** What each word of --estimate looks for. */
const KINDS: Readonly<Record<string, readonly DistortionKind[]>> = {
  scale: ['scale'],
  rotations: ['turn-east', 'turn-north', 'turn-up'],
  'zenith-delay': ['zenith-delay'],
};

/** What --estimate and --estimate-by ask for; null: nothing. Problems: usage-invalid, usage-conflict. */
export function distortionsAsked(invocation: Invocation, { vectors }: Network): Outcome<DistortionSearch | null> {
  const words = listOption(invocation, 'estimate').flatMap((text) => text.split(',').map((word) => word.trim()));
  const by = textOption(invocation, 'estimateBy') ?? 'base';
  if (words.length === 0)
    return isGiven(invocation, 'estimateBy')
      ? failure(
          errorProblem('usage-conflict', {
            message: '--estimate-by needs --estimate',
            hint: 'add --estimate scale,rotations,zenith-delay, or some of them',
          }),
        )
      : success(null);
  const kinds: DistortionKind[] = [];
  for (const word of words) {
    const own = Object.hasOwn(KINDS, word) ? KINDS[word] : undefined;
    if (own === undefined)
      return failure(
        errorProblem('usage-invalid', {
          message: '--estimate takes scale, rotations and zenith-delay',
          received: word,
        }),
      );
    pushAll(kinds, own);
  }
  if (by === 'day' && vectors.every(({ day }) => day === undefined || day === ''))
    return failure(
      errorProblem('usage-conflict', {
        message: '--estimate-by day: no vector says of which day it is',
        hint: 'give the vectors a day column, or the run records of several days',
      }),
    );
  return success({ kinds, by });
}

/** What was looked for, and what of it is kept, for the record. */
export function recordDistortions(log: RunLog, search: DistortionSearch | null, { distortions }: NetworkResults): void {
  if (search === null) return;
  log.setting('network.estimate', search.kinds.join(', '), 'command line');
  log.setting('network.estimate_by', search.by, 'command line');
  for (const { name, answer, valuePpm, sigmaPpm } of distortions)
    if (answer === 'kept' && valuePpm !== null && sigmaPpm !== null)
      log.method({
        id: 'network-distortion',
        name: `${name}: ${formatFixed(valuePpm, 3)} ± ${formatFixed(sigmaPpm, 3)} mm a km, kept as an unknown`,
        source: { key: 'BAARDA-1968', locator: 'docs/methods/network.md' },
      });
}
