import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { RecordList } from '../../records/record-list.js';
import { searchCause } from './judge/check-tolerances-cause.js';
import type { CauseSearch } from './judge/check-tolerances-cause.js';
import { checkControl } from './compare/check-tolerances-control.js';
import { checkRepeats } from './compare/check-tolerances-repeats.js';
import type { RepeatGroup } from './compare/check-tolerances-repeats.js';
import type { CheckRow, CheckSetup } from './judge/check-tolerances-setup.js';
import { controlContrasts } from '../repeats/control-contrasts.js';
import { applied, dayOfRepeats } from '../repeats/day-of-repeats.js';

/** What a check says of its day, and of the cause of what its control leaves. */
export interface DayOfCheck {
  readonly day: DayVariance | null;
  readonly search: CauseSearch | null;
  /** Control has a part in it. */
  readonly usesControl: boolean;
}

/**
 * How noisy the day of a check was: by its repeats, and by its control where no mistake is found in that.
 *
 * Given: checks of control, none where there are none; repeats; the setup. Returned: see `DayOfCheck`; the cause is sought in the noise that the repeats show,
 * which know nothing of the control.
 */
export function dayOfCheck(
  control: RecordList<CheckRow>,
  groups: readonly RepeatGroup[],
  setup: CheckSetup,
): DayOfCheck {
  const byRepeats = dayOfRepeats(groups);
  if (control.length === 0) return { day: byRepeats, search: null, usesControl: false };
  const search = searchCause(control, setup, setup.day === null ? byRepeats : null);
  const contrasts = isCalm(search)
    ? controlContrasts(control, setup).filter((point) => point.contrasts.length > 0)
    : [];
  return {
    day: contrasts.length === 0 ? byRepeats : dayOfRepeats([...groups, ...contrasts]),
    search,
    usesControl: contrasts.length > 0,
  };
}

/** The day, to be applied where it was noisier, before anything is judged. Given: points; control, null: none is asked for; repeats as `checkRepeats` takes them, null: none. */
export function dayToApply(
  points: RecordList<PointRow>,
  control: RecordList<PointRow> | null,
  repeats: { readonly samePlaceM: number | null } | null,
  setup: CheckSetup,
): DayOfCheck {
  const checked = control === null ? null : checkControl(points, control, '', setup);
  const repeated = repeats === null ? null : checkRepeats(points, repeats.samePlaceM, '', setup);
  const found = dayOfCheck(
    checked?.ok === true ? checked.value.rows : [],
    repeated?.ok === true ? repeated.value.groups : [],
    setup,
  );
  return { ...found, day: applied(found.day) };
}

/** Control without a mistake that is known: noise is all that it shows. */
function isCalm(search: CauseSearch | null): boolean {
  if (search === null) return true;
  const { verdict, findings } = search.report;
  return (
    verdict === 'nothing-to-explain' ||
    verdict === 'too-few-values' ||
    findings.length === 0 ||
    (verdict === 'named' && findings[0]?.cause === 'noise')
  );
}
