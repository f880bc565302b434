import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { createFrameReader } from '../../io/rtcm/frame-reader.js';
import { readMessage } from '../../io/rtcm/read-message.js';
import type { FrameCounts } from '../../records/corrections/frame-counts.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { createCorrectionCount } from '../../tasks/corrections/correction-audit.js';
import type { CorrectionCount } from '../../tasks/corrections/correction-audit.js';
import type { Surroundings } from '../surroundings.js';

/** Streams read to their ends. */
export interface ReadStreams {
  readonly count: CorrectionCount;
  readonly files: readonly { readonly source: Source; readonly frames: FrameCounts }[];
}

/**
 * Reads recorded correction streams, one after another, in memory that does not grow with them.
 * Given: paths, `-` for standard input; what is called between pieces, which may stop the run.
 * Problems: file-not-found and the like; stream-no-frames.
 */
export async function readStreams(
  paths: readonly string[],
  { cwd, stdin }: Surroundings,
  breathe: () => void,
): Promise<Outcome<ReadStreams>> {
  const count = createCorrectionCount();
  const files: { source: Source; frames: FrameCounts }[] = [];
  for (const path of paths) {
    const opened = await openSource(path, { cwd, stdin, isBinary: true });
    if (!opened.ok) return opened;
    const source = opened.value;
    count.begin();
    const reader = createFrameReader((content) => {
      count.add(readMessage(content), content.length);
    });
    for await (const piece of source.chunks()) {
      breathe();
      if (!piece.ok) return piece;
      reader.push(piece.value);
    }
    reader.end();
    const frames = reader.counts();
    if (frames.good === 0)
      return failure(
        errorProblem('stream-no-frames', {
          message: `no frame of RTCM 3 in ${String(frames.bytes)} bytes`,
          where: { source: source.name },
          hint: 'name the recording as it was received; an older version 2, or a file of another format, is not read',
        }),
      );
    count.end(source.name, frames);
    files.push({ source, frames });
  }
  return success({ count, files });
}
