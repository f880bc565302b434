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
import { openFixes } from '../reduction/open-fixes.js';
import type { FixInputSettings, OpenedFixes } from '../reduction/open-fixes.js';
import type { Surroundings } from '../surroundings.js';

/** A file of fixes, with what it is read with and where its path starts from. */
export interface LinkInput {
  readonly path: string;
  readonly settings: FixInputSettings;
  readonly surroundings: Surroundings;
  /** The bases that its fixes may be of; null: none is known, and no baseline either. */
  readonly setup: ReductionSetup | null;
}

/** What fixes are counted with. */
export interface LinkCounting {
  readonly session: EpochSession;
  readonly skipsBad: boolean;
}

/** What a session says of its epochs. */
export type EpochSession = Pick<Session, 'acceptance' | 'tolerance' | 'precision'>;

/** How positions of fixes become geodetic, with the setup of a session or without one. */
export function linkPlaces(setup: ReductionSetup | null): FixPlaces {
  return setup === null ? { toGeodetic: (point) => geocentricToGeodetic(point, GRS80) } : fixPlaces(setup);
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
  inputs: readonly LinkInput[],
  { session, skipsBad }: LinkCounting,
  { report, breathe, rejects }: LinkListener,
): Promise<Outcome<{ readonly count: LinkCount; readonly files: readonly ReadFixes[] }>> {
  const { acceptance, tolerance, precision } = session;
  const ageRateMPerS = precision.ageMmPerS / 1000;
  let inForce: ReductionSetup | null = null;
  const setting = linkSetting({ acceptance, tolerance, ageRateMPerS }, () => inForce);
  const count = createLinkCount(setting);
  const files: ReadFixes[] = [];
  let allBad = 0;
  for (const [index, { path, settings, surroundings, setup }] of inputs.entries()) {
    inForce = setup;
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
  return allBad > 0 && !skipsBad ? failure() : success({ count, files });
}
