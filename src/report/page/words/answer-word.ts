import type { Answer } from '../../../records/runs/run-answer.js';

const WORDS: Readonly<Record<Answer, string>> = { within: 'Within.', review: 'For review.', no: 'Not within.' };

/** The first word of a page. */
export function answerWord(answer: Answer): string {
  return WORDS[answer];
}
