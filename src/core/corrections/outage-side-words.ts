import type { OutageSide } from '../../records/corrections/link-report.js';

/** What an outage is put down to, in words. */
export const SIDE_WORDS: Readonly<Record<OutageSide, string>> = {
  base: 'the base was silent',
  rover: 'the base sent, the rover had nothing',
  none: 'corrections came, and the solution was not fixed',
  unknown: 'which side is not known',
};
