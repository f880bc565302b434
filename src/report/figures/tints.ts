/** How a part of a bar is told from its neighbours: the ink, thinner from part to part, and a letter. */
export interface Tint {
  readonly opacity: string;
  readonly letter: string;
  /** The letter is written in the colour of the paper. */
  readonly isDark: boolean;
}

/** Eight tints, dark and light in turn with thinner ink in each turn, so that no neighbour looks like the next. */
export const TINTS: readonly Tint[] = [
  { opacity: '.95', letter: 'a', isDark: true },
  { opacity: '.3', letter: 'b', isDark: false },
  { opacity: '.85', letter: 'c', isDark: true },
  { opacity: '.2', letter: 'd', isDark: false },
  { opacity: '.75', letter: 'e', isDark: true },
  { opacity: '.1', letter: 'f', isDark: false },
  { opacity: '.65', letter: 'g', isDark: true },
  { opacity: '0', letter: 'h', isDark: false },
];
