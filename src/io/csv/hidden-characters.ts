import { warningProblem } from '../../records/problem.js';
import type { Location, Problem } from '../../records/problem.js';

/** A kind of character that is not seen, or disguises what is. */
interface HiddenKind {
  readonly what: string;
  readonly pattern: RegExp;
}

/** Code points by name of Unicode, from memory. */
const KINDS: readonly HiddenKind[] = [
  { what: 'turns the direction of writing', pattern: /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u },
  { what: 'has no width', pattern: /[\u200b-\u200d\u2060-\u2064\ufeff]/u },
  { what: 'is a hyphen that is not shown', pattern: /\u00ad/u },
];

const EVERY_KIND = /[\u00ad\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/gu;
const BEYOND_ASCII = /[^\0-\u007f]/u;
const LONGEST_SHOWN = 40;

/** Looks at the texts of one table. */
export interface HiddenWatch {
  /** Given: a text, and where it stands. Cheap for ASCII. */
  readonly look: (text: string, where: () => Location) => void;
  /** What has been found since the last call: each kind is said once, where it first stands. */
  readonly take: () => readonly Problem[];
}

/** A watch for characters that make two names look like one, or one like another. */
export function createHiddenWatch(): HiddenWatch {
  const said = new Set<HiddenKind>();
  let found: Problem[] = [];
  return {
    look(text, where) {
      if (!BEYOND_ASCII.test(text)) return;
      for (const kind of KINDS) {
        const [character] = kind.pattern.exec(text) ?? [];
        if (character === undefined || said.has(kind)) continue;
        said.add(kind);
        const shown = text.replace(EVERY_KIND, escaped);
        const count = text.match(EVERY_KIND)?.length ?? 0;
        found.push(
          warningProblem('value-hidden-character', {
            message: `"${shown.length > LONGEST_SHOWN ? `${shown.slice(0, LONGEST_SHOWN)}…` : shown}" holds ${codePoint(character)}, which ${kind.what}${count > 1 ? ` (${count} hidden characters in this cell)` : ''}`,
            where: where(),
            hint: 'names that look the same may differ by it: take it out of the file; others like it in this file are not listed',
          }),
        );
      }
    },
    take() {
      if (found.length === 0) return NOTHING;
      const taken = found;
      found = [];
      return taken;
    },
  };
}

const NOTHING: readonly Problem[] = Object.freeze([]);

function escaped(character: string): string {
  return `\\u${hex(character)}`;
}

function codePoint(character: string): string {
  return `U+${hex(character).toUpperCase()}`;
}

function hex(character: string): string {
  return character.charCodeAt(0).toString(16).padStart(4, '0');
}
