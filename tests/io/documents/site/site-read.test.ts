import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSite } from '../../../../src/io/documents/site/site-read.js';
import { siteText } from '../../../../src/io/documents/site/site-write.js';
import { siteHeightShiftM, siteSigma } from '../../../../src/core/adjustment/site/site-transform.js';
import { collocateHeights, withUntoldTilt } from '../../../../src/core/heights/height-surface.js';
import type { HeightSurface } from '../../../../src/core/heights/height-surface.js';
import { surfaceAtM, surfaceVarianceM2 } from '../../../../src/core/heights/surface-at.js';
import type { SiteDocument } from '../../../../src/core/adjustment/site/site-document.js';
import { createSiteApplier } from '../../../../src/tasks/site/apply-site.js';

const TEXT = readFileSync(new URL('../../../../examples/quillback-pan-site/site.json', import.meta.url), 'utf8');

function siteOf(text: string): SiteDocument {
  const read = readSite(text, 'site.json');
  if (!read.ok) throw new Error(read.problems.map((problem) => problem.message).join('; '));
  return read.value;
}

describe('readSite', () => {
  it('reads what was written, to the byte', () => {
    expect(siteText(siteOf(TEXT))).toBe(TEXT);
  });

  it('reads a site with the answer of its fit, and one of before that was written', () => {
    const said = siteText(siteOf(TEXT), { verdict: 'within' });
    expect(JSON.parse(said)).toEqual({ ...(JSON.parse(TEXT) as object), summary: { verdict: 'within' } });
    expect(TEXT).not.toContain('summary');
    expect(siteOf(said)).toEqual(siteOf(TEXT));
  });

  it('reads every signal that benchmarks leave likely, and refuses weights that are no parts of one', () => {
    const surface = readFileSync(
      new URL(
        '../../../cases/fit-site/a-surface-of-heights-is-chosen-by-leaving-out/expected-surface.json',
        import.meta.url,
      ),
      'utf8',
    );
    const document = JSON.parse(surface) as { vertical: { signal: Record<string, unknown> } };
    const withLikely = (likely: unknown): string =>
      JSON.stringify({
        ...document,
        vertical: { ...document.vertical, signal: { ...document.vertical.signal, likely } },
      });
    const two = [
      { sigma_m: 0.01, length_m: 12_000, weight: 0.25 },
      { sigma_m: 0.03, length_m: 25_000, weight: 0.75 },
    ];
    const site = siteOf(withLikely(two));
    expect(siteOf(siteText(site))).toEqual(site);
    // Each signal alone, by the same file; the variance of both is their mean, each with what its correction is off.
    const place = { eastM: -36_000, northM: -3_484_000 };
    const by = (text: string): readonly [number, number] => {
      const { transform } = siteOf(text);
      return [siteHeightShiftM(transform, place)!, siteSigma(transform, place).heightM! ** 2];
    };
    const alone = two.map(({ sigma_m, length_m }) => {
      const read = siteOf(surface).transform.vertical as HeightSurface;
      const signal = { ...read.signal, sigmaM: sigma_m, lengthM: length_m };
      const one = withUntoldTilt(collocateHeights({ ...read, signal }, read.varianceFactor)!);
      return [surfaceAtM(one, place), surfaceVarianceM2(one, place)] as const;
    });
    const [at, variance] = by(withLikely(two));
    const mean = two.reduce((sum, { weight }, i) => sum + weight * (alone[i]![1] + (alone[i]![0] - at) ** 2), 0);
    expect(by(surface)[0]).toBe(at);
    expect(variance / mean).toBeCloseTo(1, 9);
    for (const bad of [[{ ...two[0], weight: 0.9 }, two[1]], [{ ...two[0], length_m: 0 }, two[1]], 'all']) {
      const read = readSite(withLikely(bad), 'site.json');
      expect(read.ok, JSON.stringify(bad)).toBe(false);
      expect(read.problems.every(({ where }) => where?.path?.startsWith('vertical.signal.likely'))).toBe(true);
    }
  });

  it('reads a site without heights', () => {
    const plain = JSON.parse(TEXT) as Record<string, unknown>;
    const site = siteOf(JSON.stringify({ ...plain, vertical: null }));
    expect([site.heightKind, site.transform.vertical, site.transform.verticalHull, site.verticalQuality]).toEqual([
      null,
      null,
      null,
      null,
    ]);
    expect(siteOf(siteText(site))).toEqual(site);
  });

  it.each(['spline', null, 3])(
    'takes heights of no kind for a plane, and refuses a kind that it does not know: %s',
    (kind) => {
      const document = JSON.parse(TEXT) as { vertical: Record<string, unknown> };
      expect(document.vertical).not.toHaveProperty('kind');
      const read = readSite(JSON.stringify({ ...document, vertical: { ...document.vertical, kind } }), 'site.json');
      expect(read.problems.map(({ where }) => where?.path)).toEqual(['vertical.kind']);
    },
  );

  it('refuses every document in which a member is missing or of another kind, and names the member', () => {
    const members: readonly (readonly [path: readonly string[], bad: unknown])[] = [
      [['source', 'system'], 5],
      [
        ['source', 'columns'],
        ['easting_m', 'southing_m'],
      ],
      [['site', 'metres_per_unit'], 0],
      [['horizontal', 'scale'], -1],
      [['horizontal', 'rotation_deg'], 'x'],
      [
        ['horizontal', 'covariance'],
        [1, 2],
      ],
      [['horizontal', 'site_origin'], null],
      [['vertical', 'height_kind'], 'bare'],
      [['vertical', 'covariance'], null],
      [['hull'], []],
      [['buffer_m'], null],
      [['control'], 'none'],
      [['statements'], [1]],
    ];
    for (const [path, bad] of members) {
      for (const value of [bad, undefined]) {
        const document = JSON.parse(TEXT) as Record<string, unknown>;
        let inner = document;
        for (const key of path.slice(0, -1)) inner = inner[key] as Record<string, unknown>;
        const last = path.at(-1) ?? '';
        inner[last] = value;
        const read = readSite(JSON.stringify(document), 'site.json');
        expect(read.ok, `${path.join('.')} ${String(value)}`).toBe(false);
        if (!read.ok)
          expect(
            read.problems.some(
              (problem) => problem.code === 'record-schema' && problem.where?.path?.startsWith(path[0] ?? ' ') === true,
            ),
            path.join('.'),
          ).toBe(true);
      }
    }
  });

  it('refuses other documents, later versions and text that is no JSON', () => {
    for (const text of [
      '[]',
      '{}',
      '{"schema":"pegbook-site","version":2}',
      '{"schema":"pegbook-run-record","version":1}',
    ]) {
      const read = readSite(text, 'site.json');
      expect(read.ok ? '' : read.problems[0]!.code, text).toBe('record-schema');
    }
    const broken = readSite('{', 'site.json');
    expect(broken.ok ? '' : broken.problems[0]!.code).toBe('config-syntax');
  });
});

describe('createSiteApplier', () => {
  const site = siteOf(TEXT);
  const there = createSiteApplier(site, { direction: 'to-site', extrapolate: false });
  const back = createSiteApplier(site, { direction: 'from-site', extrapolate: false });

  it('returns places and heights within a micrometre after a hundred round trips', () => {
    let pair = { first: -33_000.1234, second: 3_481_300.4321, heightM: 1060.5 as number | null };
    for (let i = 0; i < 100; i += 1) {
      const on = there(pair);
      if (!on.ok) throw new Error('outside');
      const off = back(on.value);
      if (!off.ok) throw new Error('outside');
      pair = off.value;
    }
    expect(Math.hypot(pair.first + 33_000.1234, pair.second - 3_481_300.4321)).toBeLessThan(1e-6);
    expect(Math.abs(pair.heightM! - 1060.5)).toBeLessThan(1e-6);
  });

  it('recovers the truth that the example was made from within three sigma', () => {
    const on = there({ first: -32_982.3776, second: 3_481_252.0746, heightM: 1000 });
    if (!on.ok) throw new Error('outside');
    expect(Math.abs(on.value.first - 5000)).toBeLessThan(3 * on.value.sigmaEastM);
    expect(Math.abs(on.value.second - 8000)).toBeLessThan(3 * on.value.sigmaNorthM);
    expect(Math.abs(on.value.heightM! - 1000.234)).toBeLessThan(3 * on.value.sigmaHeightM!);
    expect(Math.abs(site.transform.horizontal.scale - 1.000157714)).toBeLessThan(
      3 * Math.sqrt(site.transform.horizontalCovariance[15]!),
    );
    expect(Math.abs(site.transform.horizontal.rotationRad - (12.4 * Math.PI) / 180)).toBeLessThan(
      3 * Math.sqrt(site.transform.horizontalCovariance[10]!),
    );
  });

  it('refuses a point beyond the buffer, and computes it with a warning and a larger sigma when asked', () => {
    const far = { first: -37_500, second: 3_481_000, heightM: null };
    const refused = there(far);
    expect(refused.ok ? '' : refused.problems[0]!.code).toBe('site-outside-control');
    const asked = createSiteApplier(site, { direction: 'to-site', extrapolate: true })(far);
    const near = there({ first: -33_000, second: 3_481_200, heightM: null });
    if (!asked.ok || !near.ok) throw new Error('refused');
    expect(asked.problems[0]!.severity).toBe('warning');
    expect(asked.value.sigmaEastM).toBeGreaterThan(2 * near.value.sigmaEastM);
    expect(asked.value.heightM).toBeNull();
  });
});
