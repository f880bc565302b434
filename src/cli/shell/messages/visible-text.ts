const HIDDEN = /[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** Longest text of one message or hint on a terminal, characters. */
const LONGEST = 1000;

/**
 * Text of a file or a command line as a terminal may show it: control characters and marks that turn the direction of
 * writing stand as `\u001b`, so that no input can move the cursor, colour the screen or disguise a line.
 */
export function visibleText(text: string): string {
  return text.replace(HIDDEN, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** The same text, cut where it is longer than anyone reads. */
export function clippedText(text: string): string {
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST)}…`;
}
