import type { ColumnProfile } from './columns/column-profile.js';
import { question } from './draft-line.js';
import type { Answers, DraftLine } from './draft-line.js';

/** What the file says of antenna and pole. */
export interface RoverSigns {
  readonly hasPole: boolean;
  readonly hasReferencePoint: boolean;
  readonly tilt: ColumnProfile | null;
  /** Positions of a log are the antenna's. */
  readonly isLog: boolean;
}

/** Lines of `[rover]`: what the positions belong to, the phase centre, the pole, the way a tilt azimuth points. */
export function roverLines(
  { hasPole, hasReferencePoint, tilt, isLog }: RoverSigns,
  answers: Answers,
): readonly DraftLine[] {
  const point = answers.get('rover.reference_point');
  const lines: DraftLine[] = [];
  if (isLog)
    lines.push({
      path: ['rover', 'reference_point'],
      value: 'apc',
      why: [
        'positions of an NMEA 0183 log are those of the antenna phase centre; "arp" or "tip" if the receiver was told otherwise',
      ],
    });
  else if (!hasReferencePoint)
    lines.push(
      question(
        ['rover', 'reference_point'],
        [
          'what the positions in the file belong to: "tip" of the pole, if the logger took the pole off already;',
          '"arp" antenna reference point, "apc" antenna phase centre, if it did not',
        ],
      ),
    );
  if (point !== 'tip' && point !== 'arp')
    lines.push(
      question(
        ['rover', 'phase_centre_offset_m'],
        [
          "antenna reference point to phase centre along the pole, metres, from the antenna's data sheet; 0 says that they are one",
          'it only counts with "apc": take the line out otherwise',
        ],
      ),
    );
  if (!hasPole && point !== 'tip')
    lines.push(
      question(
        ['rover', 'pole_length_m'],
        ['tip to antenna reference point, metres; no column says it. Take the line out if positions are of the tip'],
      ),
    );
  if (tilt !== null)
    lines.push(
      question(
        ['rover', 'tilt_azimuth'],
        [
          `"${tilt.header}" holds tilts of ${String(tilt.least)} to ${String(tilt.most)}: which way does their azimuth point?`,
          '"top-from-tip" or "tip-from-top". If the logger has applied the tilt, take this line and the tilt columns out',
        ],
      ),
    );
  return lines;
}
