import { around, meets, widthOf } from '../../figures/plan/place-labels.js';
import type { PlacedLabel, TakenPlace } from '../../figures/plan/place-labels.js';

const STEP_PX = 30;
const ABOVE = -4;
const BELOW = 11;

/** The words of level lines: at the right end above or below the line, or as much farther left as is free. */
export function limitWords(
  levels: readonly { readonly y: number; readonly word: string }[],
  taken: readonly TakenPlace[],
  box: { readonly left: number; readonly right: number },
): readonly PlacedLabel[] {
  const occupied = taken.map(around);
  // The other lines strike a word through.
  for (const { y } of levels) occupied.push({ left: box.left, right: box.right, top: y - 1, bottom: y + 1 });
  const placed: PlacedLabel[] = [];
  for (const { y, word } of levels) {
    if (word === '') continue;
    const width = widthOf(word);
    const tries = Array.from(
      { length: Math.floor((box.right - box.left - width) / STEP_PX) + 1 },
      (_, i) => box.right - 2 - i * STEP_PX,
    ).flatMap((x) => [ABOVE, BELOW].map((dy) => ({ x, y: y + dy })));
    const rectangleOf = (at: {
      readonly x: number;
      readonly y: number;
    }): { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number } => ({
      left: at.x - width,
      right: at.x,
      top: at.y - 8,
      bottom: at.y + 2,
    });
    const best = tries.find((at) => !occupied.some((other) => meets(rectangleOf(at), other))) ?? tries[0];
    if (best === undefined) continue;
    occupied.push(rectangleOf(best));
    placed.push({ ...best, text: word, classes: 'e s halo' });
  }
  return placed;
}
