import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import { GRS80 } from '../../core/ellipsoid/ellipsoid.js';
import type { FixBlock } from '../../io/tables/fixes/fix-block-read.js';
import type { FixPlaces } from '../../io/tables/fixes/fix-row.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { Session } from '../../records/session.js';
import { createLinkCount } from '../../tasks/corrections/link/link-count.js';
import type { LinkCount } from '../../tasks/corrections/link/link-count.js';
import { linkSetting } from '../../tasks/corrections/link/link-setting.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import { fixPlaces } from '../reduction/fix-places.js';
import { openFixes, PLAIN_LOG } from '../reduction/open-fixes.js';
import type { OpenedFixes } from '../reduction/open-fixes.js';
import type { Surroundings } from '../surroundings.js';
import type { TableReading } from '../table-reading.js';

/** What fixes are read and counted with. */
export interface LinkReading {
  readonly session: Session;
  /** Null: the session names no system, so that no baseline is known. */
  readonly setup: ReductionSetup | null;
  readonly tables: TableReading;
  readonly skipsBad: boolean;
}

/** A file of fixes read to its end. */
export interface ReadFixes extends Pick<OpenedFixes, 'source' | 'kind'> {
  readonly good: number;
  readonly bad: number;
}

/** Who is told of what is read. */
export interface LinkListener {
  readonly report: (problems: readonly Problem[]) => void;
  /** May stop the run. */
  readonly breathe: () => void;
  /** Where bad rows go, beside their problems. */
  readonly rejects: {
    readonly start: (headerRaw: string | null) => Promise<void>;
    readonly add: (rows: FixBlock['rejected']) => Promise<void>;
  };
}

/**
 * Reads fixes and counts the link of the day.
 * Problems: those of opening and reading; a failure without problems where rows are bad, which were told.
 */
export async function readLink(
  paths: readonly string[],
  reading: LinkReading,
  surroundings: Surroundings,
  { report, breathe, rejects }: LinkListener,
): Promise<Outcome<{ readonly count: LinkCount; readonly files: readonly ReadFixes[] }>> {
  const { session, setup, tables } = reading;
  const count = createLinkCount(linkSetting({ ...session, ageRateMPerS: session.precision.ageMmPerS / 1000 }, setup));
  const places: FixPlaces =
    setup === null ? { toGeodetic: (point) => geocentricToGeodetic(point, GRS80) } : fixPlaces(setup);
  const files: ReadFixes[] = [];
  let allBad = 0;
  for (const [index, path] of paths.entries()) {
    const settings = {
      ...{ tables, kind: null, places, referencePoint: session.rover.referencePoint },
      log: { ...PLAIN_LOG, baseIds: session.bases.map(({ id }) => id), spans: session.bases },
    };
    const opened = await openFixes(path, index, settings, surroundings);
    if (!opened.ok) return opened;
    report(opened.problems);
    const { source, kind, input } = opened.value;
    count.begin(source.name);
    await rejects.start(input.headerRaw);
    let good = 0;
    let bad = 0;
    for await (const item of input.blocks()) {
      breathe();
      if (!item.ok) return item;
      report(item.value.warnings);
      for (const row of item.value.rejected) report(row.problems);
      bad += item.value.rejected.length;
      await rejects.add(item.value.rejected);
      for (const fix of item.value.fixes) count.add(fix);
      good += item.value.fixes.length;
    }
    files.push({ source, kind, good, bad });
    allBad += bad;
  }
  return allBad > 0 && !reading.skipsBad ? failure() : success({ count, files });
}
