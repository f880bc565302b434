import { join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

// A real log (tests/data/README.md): 122 GGA, quality 2 of 104 and 4 of 18. Source: COMPUTED, an independent count of the ages
// of field 13: 5.8 to 14.8 s, mean 10.4795; 68 above 10 s; three resets, mean peak 13.867, mean trough 10.333.
it('finds in a real log the ages, resets and latency that an independent count finds', async () => {
  const { stdout } = await runInProcess(
    ['inspect-corrections', '--fixes', 'link-of-a-walk.nmea', '--format', 'json', '-q'],
    {
      cwd: join(ROOT, 'tests', 'data'),
    },
  );
  const { link } = JSON.parse(stdout.toString('utf8')) as { readonly link: Readonly<Record<string, unknown>> };
  expect(link).toMatchObject({
    epochs: 122,
    epochs_with_age: 122,
    epochs_not_fixed: 104,
    mean_age_s: 10.4795,
    least_age_s: 5.8,
    largest_age_s: 14.8,
    epochs_above_limit: 68,
    resets: { count: 3, mean_peak_s: 13.8667, latency_s: 10.3333 },
  });
});
