import type { Answer } from '../../records/runs/run-answer.js';

const GRAVITY: Readonly<Record<Answer, number>> = { within: 0, review: 1, no: 2 };

/** The gravest of several answers: one `no` makes the whole no, one `review` makes it review. Within where there is none. */
export function gravestAnswer(answers: Iterable<Answer>): Answer {
  let gravest: Answer = 'within';
  for (const answer of answers) if (GRAVITY[answer] > GRAVITY[gravest]) gravest = answer;
  return gravest;
}
