import { named } from './pull-sentence.js';
import type { NetworkResults } from './network-results.js';

/** What to do next, most pressing first: sentences for people. Empty: nothing. */
export function nextSteps({
  adjusted,
  observations,
  control,
  points,
  components,
  distortions,
}: NetworkResults): readonly string[] {
  const foul = observations.filter(({ reasons }) => reasons.includes('network-observation'));
  const foulControl = control.filter(({ reasons }) => reasons.includes('network-control'));
  const unchecked = points.filter(({ isChecked }) => !isChecked).map(({ id }) => id);
  const steps: string[] = [];
  if (foul.length > 0) {
    const ends = [...new Set(foul.flatMap(({ toId }) => toId))];
    steps.push(
      `Look at the field notes of ${named(ends)}: pole and antenna heights, the name of the mark, the initialisation. Observe again what you cannot explain; --exclude-outliers leaves out what the others contradict.`,
    );
  }
  if (foulControl.length > 0)
    steps.push(
      `Check control ${named(foulControl.map(({ id }) => id))}: its coordinate as it was published, its frame and epoch, and that the right mark was occupied.`,
    );
  if (adjusted.excluded.length > 0)
    steps.push(
      'Find out why each observation that was left out is wrong, and observe it again: a reason unknown may be in others too.',
    );
  const kept = distortions.flatMap(({ name, answer }) => (answer === 'kept' ? [name] : []));
  if (kept.length > 0)
    steps.push(
      `Find out what makes the ${named(kept)}: a coordinate of the base in another frame or epoch, another model of the antenna, or weather that changes with height.`,
    );
  if (adjusted.control === null)
    steps.push('Tie the network to more control: nothing checks the one station that holds it.');
  if (unchecked.length > 0)
    steps.push(
      `Observe ${named(unchecked)} once more, from another base or on another day: a blunder there would go in whole and unseen.`,
    );
  if (adjusted.finalTest.answer === 'too-large' && foul.length === 0 && foulControl.length === 0)
    steps.push(
      components.length > 0
        ? 'No single observation explains the residuals: see which group asks for larger sigmas, and why.'
        : 'No single observation explains the residuals: the stated sigmas are likely too small.',
    );
  if (adjusted.finalTest.answer === 'too-small')
    steps.push(
      'Residuals are smaller than stated: nothing needs mending; the stated sigmas are larger than they need be.',
    );
  return steps;
}
