import type { Sink } from '../../../io/bytes/output/sink.js';
import type { Problem } from '../../../records/problem.js';

/** Characters that are gathered before they are handed on, so that problems need no memory. */
const GATHERED = 1 << 16;

/** The file of --problems: every problem as a line of JSON. */
export interface ProblemFile {
  readonly open: (sink: Sink) => void;
  /** Nothing where it is not open. */
  readonly add: (problem: Problem) => void;
  /** Everything added is handed on. */
  readonly end: () => Promise<void>;
}

/** Not open yet. */
export function createProblemFile(): ProblemFile {
  let sink: Sink | null = null;
  let text = '';
  let written: Promise<void> = Promise.resolve();
  const hand = (to: Sink): void => {
    const piece = text;
    text = '';
    written = written.then(() => to.write(piece));
  };
  return {
    open(opened) {
      sink = opened;
    },
    add(problem) {
      if (sink === null) return;
      text += `${JSON.stringify(problem)}\n`;
      if (text.length >= GATHERED) hand(sink);
    },
    async end() {
      if (sink !== null && text !== '') hand(sink);
      await written;
    },
  };
}
