import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { question } from './draft-line.js';
import type { DraftLine, WorkBox } from './draft-line.js';
import type { PositionLines } from './draft-position.js';

/** A published system that could be meant. */
export interface CandidateSystem {
  readonly code: string;
  readonly name: string;
  readonly area: string;
}

/** Published systems whose area of use holds the work, the smallest area first. */
export interface SystemCandidates {
  readonly systems: readonly CandidateSystem[];
  /** How many there are besides. */
  readonly more: number;
  /** The strip of six degrees that the middle of the work lies in. */
  readonly strip: CandidateSystem | null;
}

/** Lines of `[system]` and `[height]`. Which system a job is in is never guessed: candidates are named. */
export function systemLines(
  { kind, box, height }: Pick<PositionLines, 'kind' | 'box' | 'height'>,
  found: SystemCandidates | null,
): readonly DraftLine[] {
  const grid = question(
    ['system', 'grid'],
    [
      'the projected system that the points are wanted in: your client or the authority says which',
      ...(box === null ? [] : [placeText(box)]),
      ...(found === null ? [] : candidateTexts(found)),
      ...(box === null ? ['pegbook find-system WORDS lists systems by name and area'] : []),
    ],
  );
  const fixes =
    kind === 'grid'
      ? question(
          ['system', 'fixes'],
          ['the projected system that the coordinates in the file are in; the grid itself if they are one'],
        )
      : question(
          ['system', 'fixes'],
          [
            'the geographic system that the fixes are in: what the base sent decides. EPSG:4326 is WGS 84; the base of the grid is named by pegbook describe-system',
          ],
        );
  const geoid: DraftLine =
    height === 'orthometric'
      ? question(
          ['height', 'geoid'],
          ['heights in the file are above a geoid: the model they were made with, a grid file, or "egm96"'],
        )
      : {
          path: ['height', 'geoid'],
          value: 'egm96',
          why: ['for heights above the geoid: a grid file, or the built-in "egm96" of decimetre class'],
          isOffered: true,
        };
  return [grid, fixes, geoid];
}

function placeText({ southDeg, northDeg, westDeg, eastDeg }: WorkBox): string {
  const hemisphere = `${southDeg >= 0 ? 'north' : northDeg <= 0 ? 'south' : 'on both sides'} of the equator`;
  const shown = (value: number): string => formatFixed(value, 3);
  return `the fixes lie at latitude ${shown(southDeg)} to ${shown(northDeg)}, longitude ${shown(westDeg)} to ${shown(eastDeg)}, ${hemisphere}`;
}

function candidateTexts({ systems, more, strip }: SystemCandidates): readonly string[] {
  const shown = ({ code, name, area }: CandidateSystem): string => `  ${code} ${name} (${area})`;
  return [
    ...(strip === null ? [] : ['the strip of six degrees by longitude:', shown(strip)]),
    ...(systems.length === 0
      ? ['no published system has an area of use that holds them all']
      : ['published systems whose area of use holds them, smallest area first:', ...systems.map(shown)]),
    ...(more > 0 ? [`  and ${String(more)} more: pegbook find-system --at LAT,LON --kind projected`] : []),
  ];
}
