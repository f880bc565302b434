import type { DayLink } from '../../../records/corrections/link-report.js';
import type { ReductionSetup } from '../../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../../reduce/reduction-working.js';
import { createLinkCount } from './link-count.js';
import type { LinkCount } from './link-count.js';
import { linkSetting } from './link-setting.js';

/** A day that an occupation is of. */
export interface LinkedDay {
  /** Null: of no job. */
  readonly id: string | null;
  readonly setup: ReductionSetup;
}

/** Counts the link of each day from its occupations as they are reduced. */
export interface DayLinks {
  readonly add: (reduced: ReducedOccupation, day: LinkedDay) => void;
  /** Days in which an epoch states an age, in the order of their first occupations. */
  readonly result: () => readonly DayLink[];
}

export function createDayLinks(): DayLinks {
  const days = new Map<string | null, { readonly count: LinkCount; source: number }>();
  return {
    add({ working: { epochs } }, { id, setup }) {
      const own = days.get(id) ?? { count: createLinkCount(linkSetting(setup, () => setup)), source: -1 };
      days.set(id, own);
      for (const { fix } of epochs) {
        const { sourceIndex } = fix.place;
        if (sourceIndex !== own.source) {
          own.count.begin(setup.sources[sourceIndex] ?? '-'); // Standard input has no name.
          own.source = sourceIndex;
        }
        own.count.add(fix);
      }
    },
    result: () =>
      [...days].flatMap(([day, { count }]) => {
        const link = count.result();
        return link.withAge === 0 ? [] : [{ day, link }];
      }),
  };
}
