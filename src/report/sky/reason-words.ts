import type { SkyReason } from '../../records/sky/site-sky.js';

/** What is said of a limit that is missed. */
export const REASON_WORDS: Readonly<Record<SkyReason, string>> = {
  'sky-few-satellites': 'too few satellites',
  'sky-high-pdop': 'PDOP too high',
};
