import { siteWorking } from '../working/site-working.js';
import { isSurface } from '../../../core/adjustment/site/site-transform.js';
import type { SiteDocument } from '../../../core/adjustment/site/site-document.js';
import type { MethodRef } from '../../../records/runs/provenance.js';
import { createSiteApplier } from '../../site/apply-site.js';
import type { PointOnTheWay } from '../point-on-the-way.js';
import type { Step, Way } from '../step.js';

/**
 * The grid of a fitted site to its own coordinates, with the height it was fitted with.
 * Given: the site; whether points far outside its control are computed and warned of instead of refused.
 * Problems: site-outside-control, value-out-of-range.
 */
export function siteStep(site: SiteDocument, extrapolate: boolean): Step {
  return {
    forward: siteWay(site, 'to-site', extrapolate),
    inverse: siteWay(site, 'from-site', extrapolate),
    said: () => [],
    working: (direction, before, after) => [
      siteWorking(
        site,
        direction,
        { first: before.first, second: before.second, heightM: heightOf(before, site.heightKind) },
        { first: after.first, second: after.second, heightM: heightOf(after, site.heightKind) },
      ),
    ],
    recorded: (direction): readonly MethodRef[] => [
      {
        id: direction === 'inverse' ? 'site-inverse' : 'site',
        name: `fitted similarity${heightWords(site)}`,
        source: { key: 'AITKEN-1935', locator: 'docs/methods/site-fit.md' },
      },
    ],
  };
}

/** What carries the heights of a site. */
function heightWords({ transform: { vertical } }: SiteDocument): string {
  if (vertical === null) return '';
  return isSurface(vertical) ? ' and height surface' : ' and height plane';
}

function siteWay(site: SiteDocument, direction: 'to-site' | 'from-site', extrapolate: boolean): Way {
  const apply = createSiteApplier(site, { direction, extrapolate });
  const kind = site.heightKind;
  return {
    needs: 'plane',
    gives: 'plane',
    run(point) {
      const result = apply({ first: point.first, second: point.second, heightM: heightOf(point, kind) });
      if (!result.ok) return result.problems[0] ?? null;
      const { value } = result;
      if (result.problems.length > 0) point.doubts = [...point.doubts, ...result.problems];
      point.first = value.first;
      point.second = value.second;
      point.site = value;
      if (kind !== null) putHeight(point, kind, value.heightM);
      return null;
    },
  };
}

/** The height the plane of the site is added to; null where heights are not fitted. */
function heightOf(point: PointOnTheWay, kind: SiteDocument['heightKind']): number | null {
  if (kind === null) return null;
  return kind === 'orthometric' ? point.orthometricHeightM : point.ellipsoidalHeightM;
}

/** The height the site is good for; the other kind would be at odds with it and is dropped. */
function putHeight(point: PointOnTheWay, kind: 'orthometric' | 'ellipsoidal', heightM: number | null): void {
  point.orthometricHeightM = kind === 'orthometric' ? heightM : null;
  point.ellipsoidalHeightM = kind === 'ellipsoidal' ? heightM : null;
}
