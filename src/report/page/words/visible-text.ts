/** Characters a reader cannot see and that could reorder or break what stands around them. */
const BIDI_CONTROLS = /[\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/gu;
/** What HTML may not hold: control characters, lone surrogates, noncharacters. */
const UNPRINTABLE = /[\u0000-\u0008\u000B-\u001F\u007F-\u009F\uFDD0-\uFDEF\uFFFE\uFFFF\p{Surrogate}]/gu;
/** What joins to the character before it, so that a shortened text does not end in half a sign. */
const JOINS_BACK = /[\p{Mark}\p{Emoji_Modifier}\u200D]+$/u;

/**
 * Text from data as it may stand on a page: invisible controls of writing direction are spelt out, what
 * HTML cannot hold becomes U+FFFD. Everything else stays, whatever the script. Not yet escaped.
 */
export function visibleText(text: string): string {
  return (
    text
      // A sign of a text has a code.
      .replace(BIDI_CONTROLS, (sign) => `[U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`)
      .replace(UNPRINTABLE, '\uFFFD')
  );
}

/** The same, cut to so many characters with an ellipsis, for labels in figures. */
export function shortText(text: string, most: number): string {
  const signs = Array.from(visibleText(text.length > 40 * most ? text.slice(0, 40 * most) : text));
  if (signs.length <= most) return signs.join('');
  return `${signs
    .slice(0, most - 1)
    .join('')
    .replace(JOINS_BACK, '')}…`;
}
