import { textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { SkyReport } from '../../../records/reports/sky-report.js';
import { sitesToDraw } from '../../../tasks/sky/sites-to-draw.js';
import type { PlannedSky } from './planned-sky.js';

/** Writes the page of --report, where one is asked for. Warnings must have been reported. */
export async function writeSkyReport(
  bench: Workbench,
  log: RunLog,
  { setup, run, skies, files, answer, offsetMinutes }: PlannedSky,
  title: string | null,
): Promise<void> {
  const path = textOption(bench.invocation, 'report');
  if (path === null) return;
  const sink = await bench.openPage(path);
  const { skyPage } = await import('../../../report/sky/sky-page.js');
  const { findings, tracks, repeatS } = run;
  const { base, times, limits, elevationMaskDeg } = setup;
  const report: SkyReport = {
    ...{ title, base, times, limits, elevationMaskDeg, skies, offsetMinutes, repeatS },
    answer: answer.answer,
    drawn: sitesToDraw(skies).map((sky) => ({ sky, sights: run.sightsFrom(sky.site) })),
    known: tracks.map(({ satellite, system }) => ({ satellite, system })),
    ...{ unhealthy: findings.unhealthy, missing: findings.missing },
    ...{ broadcastHours: findings.broadcastHours, almanacHours: findings.almanacHours },
    skipped: files.flatMap((file) => [...file.skipped]),
    ...pageFacts(bench, log),
  };
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => skyPage(report)) ?? '');
}
