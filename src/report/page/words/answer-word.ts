import type { Answer } from '../../../records/runs/run-answer.js';

const WORDS: Readonly<Record<Answer, string>> = { within: 'Within.', review: 'For review.', no: 'Not within.' };

/** The first word of a page. */
export function answerWord(answer: Answer): string {
  return WORDS[answer];
}

/** The first word of a page on which nothing is held against a limit: done, or what is open. */
export function doneWord(answer: Answer): string {
  return answer === 'within' ? 'Done.' : WORDS[answer];
}
