import type { RunLog } from '../../shell/run/run-log.js';

/** Says in the record of a run how its network was adjusted. */
export function recordSettings(
  log: RunLog,
  choice: { readonly datum: string; readonly estimatesVariance: boolean; readonly excludesOutliers: boolean },
): void {
  log.setting('network.datum', choice.datum, 'command line');
  log.setting('network.variance_factor', choice.estimatesVariance ? 'estimated' : 'none', 'command line');
  log.setting('network.exclude_outliers', choice.excludesOutliers, 'command line');
  log.method({
    id: 'adjust-network',
    name: 'least squares with shared errors as unknowns; block tests; control against the free network',
    source: { key: 'BAARDA-1968', locator: 'docs/methods/network.md' },
  });
}
