import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

// A base six kilometres east of the 180th meridian: half of each usable range lies beyond it.
const folder = folderWithExamples();

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('a usable range over the 180th meridian', () => {
  it('is one circle about its base, as far to the west as to the east', async () => {
    writeFileSync(
      join(folder, 'points.csv'),
      'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nA,-17.2,179.9,10\nB,-17.1,-179.8,10\n',
    );
    const place = ['--base', '-17.15,-179.95,20', '--system', 'EPSG:4326'];
    const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.08'];
    const { html } = await runWithReport(folder, ['plan-baseline', 'points.csv', ...place, ...limits], 'plan');
    const start = html.indexOf('aria-labelledby="coverage-t');
    const drawing = html.slice(start, html.indexOf('</svg>', start));
    const base = Number(/class="base" transform="translate\(([\d.]+) /u.exec(drawing)?.[1]);
    const rings = [
      ...(/<g clip-path[\s\S]*?<\/g>/u.exec(drawing)?.[0] ?? '').matchAll(/<path class="inkline[^"]*" d="(M[^"]*)"/gu),
    ].map(([, path = '']) => [...path.matchAll(/[ML]([\d.]+)[ ,]/gu)].map(([, x]) => Number(x)));
    expect(rings.length).toBeGreaterThan(0);
    for (const across of rings) {
      const [west, east] = [base - Math.min(...across), Math.max(...across) - base];
      expect(Math.min(west, east)).toBeGreaterThan(0.9 * Math.max(west, east));
    }
  });
});
