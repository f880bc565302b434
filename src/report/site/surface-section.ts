import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import { present } from '../../records/present.js';
import type { SiteReport } from '../../records/reports/site-report.js';
import type { SurfaceReport } from '../../records/reports/surface-report.js';
import { wideFigure } from '../figures/figure.js';
import { gradedMap } from '../figures/plan/graded-map.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, fixed, millimetres } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** The surface of heights of a site: its map, what it was chosen from and hangs on, and its benchmarks left out. */
export function surfaceSection(report: SiteReport, surface: SurfaceReport, number: number): Markup {
  return together([
    mapFigure(report, surface, number),
    trendTable(surface),
    sensitivityTable(surface),
    leftOutTable(surface),
  ]);
}

function mapFigure({ axes, heightKind, systemName, rows }: SiteReport, surface: SurfaceReport, number: number): Markup {
  const { map, benchmarks, hull } = surface;
  const sigmas = map.map(({ sigmaM }) => sigmaM);
  const failing = new Set(rows.flatMap(({ pointId, verdict }) => (verdict === 'no' ? [pointId] : [])));
  const kept = keptOut(rows);
  const crosses = benchmarks.filter(({ pointId }) => failing.has(pointId)).length;
  const drawing = gradedMap({
    id: 'surface-map',
    title: 'Map of the height correction with its sigma',
    description:
      'Numbers are what the surface adds to a measured height there, in millimetres; the circle around each grows with its sigma. Dots are benchmarks, diamonds those that were kept out to check, crosses those that fail, the dashed line is their hull.',
    axes,
    places: map.map(({ place, correctionM, sigmaM }) => ({
      place,
      text: millimetres(correctionM),
      size: sigmaM,
      name: null,
    })),
    points: [...benchmarks.map((one) => ({ ...one, fails: failing.has(one.pointId) })), ...kept],
    outlines: [hull],
  });
  return wideFigure(
    drawing,
    number,
    markup`What the surface adds to a measured ${present(heightKind, 'heightKind')} height, in millimetres. The circles grow in six grades with one sigma of it, from ${millimetres(smallestOf(sigmas, Infinity))} to ${millimetres(largestOf(sigmas, 0))} mm. Dots: benchmarks, which no number stands on.${crosses === 0 ? '' : ` Crosses: the ${String(crosses)} whose fit is refused.`}${keptWords(kept)} Dashed: their hull, beyond which nothing checks it. Axes are those of the site, fitted to ${systemName}.`,
  );
}

type KeptOut = SurfaceReport['benchmarks'][number] & { readonly fails: boolean; readonly isKeptOut: true };

/** Points that were kept out to check heights, the farthest off first: their names are set before others. */
function keptOut(rows: SiteReport['rows']): readonly KeptOut[] {
  // Only those whose height was compared.
  const offM = ({ height }: SiteReport['rows'][number]): number => Math.abs(height?.residualM ?? 0);
  return rows
    .filter(({ role, height }) => role === 'check' && height !== null)
    .toSorted((a, b) => offM(b) - offM(a))
    .flatMap(({ pointId, verdict, control: { gridFirst, gridSecond } }) =>
      gridFirst === null || gridSecond === null
        ? []
        : [{ pointId, place: { first: gridFirst, second: gridSecond }, fails: verdict === 'no', isKeptOut: true }],
    );
}

function keptWords(kept: readonly KeptOut[]): string {
  const off = kept.filter(({ fails }) => fails).length;
  return kept.length === 0
    ? ''
    : ` Diamonds: ${String(kept.length)} kept out to check${off === 0 ? '' : `, crossed the ${String(off)} that ${off === 1 ? 'is' : 'are'} off`}.`;
}

function trendTable({ candidates, trend, trendIsStated, hasUntoldTilt }: SurfaceReport): Markup {
  return table({
    label: 'Trends tried',
    caption: markup`<b>Trends.</b> ${trendIsStated ? `${capital(trend)} was stated.` : `${capital(trend)} was taken: a richer trend has to predict benchmarks that were left out better, and pass its F-test.`}${hasUntoldTilt ? ' A tilt that the benchmarks do not show is in the sigma all the same.' : ''}`,
    columns: [
      { head: 'Trend', kind: 'text' },
      { head: 'Left out, RMS', unit: 'mm', kind: 'number' },
      { head: 'F', kind: 'number' },
      { head: 'Limit', kind: 'number' },
      { head: 'Against', kind: 'text' },
    ],
    rows: candidates.map(({ trend: name, leftOutRmsM, f }) => [
      name,
      leftOutRmsM === null ? UNKNOWN : millimetres(leftOutRmsM),
      f === null ? UNKNOWN : fixed(f.statistic, 2),
      f === null ? UNKNOWN : fixed(f.limit, 2),
      f === null ? UNKNOWN : f.against,
    ]),
  });
}

function sensitivityTable({ sensitivity, signal }: SurfaceReport): Markup {
  return table({
    label: 'What hangs on the signal',
    caption: markup`<b>What hangs on the signal.</b> ${capital(signal.kind)}, one sigma ${millimetres(signal.sigmaM)} mm (${signal.sigmaFrom}), length ${fixed(signal.lengthM / 1000, 2)} km (${signal.lengthFrom}).${signal.likely === 0 ? '' : ` The sigma is that over ${String(signal.likely)} signals which the benchmarks leave likely.`}`,
    columns: [
      { head: 'Signal', kind: 'text' },
      { head: 'Left out, RMS', unit: 'mm', kind: 'number' },
      { head: 'Largest change', unit: 'mm', kind: 'number' },
      { head: 'Largest sigma', unit: 'mm', kind: 'number' },
    ],
    rows: sensitivity.map(({ what, leftOutRmsM, changeM, mostSigmaM }) => [
      what.replace(' x ', ' × '),
      leftOutRmsM === null ? UNKNOWN : millimetres(leftOutRmsM),
      millimetres(changeM),
      millimetres(mostSigmaM),
    ]),
  });
}

/** A word as the beginning of a sentence. */
function capital(word: string): string {
  return `${word.slice(0, 1).toUpperCase()}${word.slice(1)}`;
}

function leftOutTable({ leftOut }: SurfaceReport): Markup {
  return table({
    label: 'Benchmarks left out',
    caption: markup`<b>Each benchmark left out.</b> Predicted from all others minus what it is; the sigma is that of the prediction and of the benchmark together.`,
    columns: [
      { head: 'Benchmark', kind: 'words' },
      { head: 'Off', unit: 'mm', kind: 'number' },
      { head: 'One sigma', unit: 'mm', kind: 'number' },
      { head: 'Off by', unit: 'sigmas', kind: 'number' },
    ],
    rows: leftOut.map(({ pointId, errorM, sigmaM }) => [
      named(pointId),
      errorM === null ? UNKNOWN : millimetres(errorM),
      sigmaM === null ? UNKNOWN : millimetres(sigmaM),
      errorM === null || sigmaM === null ? UNKNOWN : fixed(errorM / sigmaM, 2),
    ]),
  });
}
