import { LINKED_AXES, linkedStep, linksOf } from '../../src/core/quality/day/contrast-links.js';
import type { BaselineLink, LinkedPlaces } from '../../src/core/quality/day/contrast-links.js';
import type { BaselineContrast } from '../../src/core/quality/day/stand-contrasts.js';
import { entryAt } from '../../src/records/present.js';

/** The links of contrasts that stand in a list, each with its point: the plain way, beside that of stored contrasts. */
export function contrastLinks(
  contrasts: readonly BaselineContrast[],
  pointOf: readonly number[],
): readonly BaselineLink[] {
  const used = LINKED_AXES.map((axis): LinkedPlaces => {
    const places = contrasts.flatMap((contrast, place) => (contrast.axis === axis ? [place] : []));
    const step = linkedStep(places.length);
    return { count: places.length, places: places.filter((_, index) => index % step === 0) };
  });
  return linksOf(
    used,
    (place) => entryAt(contrasts, place),
    (place) => entryAt(pointOf, place),
  );
}
