import type { Caution } from '../caution.js';
import type { ChosenControl } from '../choose-control.js';
import type { TimetableSettings } from './timetable.js';

/** What a day leaves to be minded. Given: its control; occupations left out, and how many of these for want of a window; its settings; when it ends, seconds. */
export function timetableCautions(
  chosen: ChosenControl | null,
  { leftOut, withoutWindow }: { readonly leftOut: number; readonly withoutWindow: number },
  settings: Pick<TimetableSettings, 'latestEndS'>,
  endS: number,
): readonly Caution[] {
  const cautions: Caution[] = [];
  const source = 'common practice, no published source';
  if (chosen === null)
    cautions.push({
      id: 'timetable-no-control',
      text: 'No control point is given: nothing in this day would show a wrong base, pole or datum.',
      source,
    });
  else if (!chosen.isBeyond)
    cautions.push({
      id: 'timetable-no-control-beyond',
      text: 'No control point lies beyond the farthest work point, so scale and tilt errors at the far end would not show.',
      source,
    });
  if (leftOut > 0)
    cautions.push({
      id: 'timetable-left-out',
      text: `${String(leftOut)} occupations do not fit into the day.`,
      source,
    });
  if (withoutWindow > 0)
    cautions.push({
      id: 'timetable-no-window',
      text: `${String(withoutWindow)} of these find no window of their sky with room for them.`,
      source,
    });
  if (settings.latestEndS !== null && endS > settings.latestEndS)
    cautions.push({ id: 'timetable-late', text: 'The control visits alone run past the latest end.', source });
  return cautions;
}
