/** Texts by numbers: those that come again keep theirs. */
export interface TextTable {
  /** The number of a text. */
  readonly add: (text: string) => number;
  readonly at: (number: number) => string;
}

/** So many different texts are looked for among those that came before; memory of more of them would be more than it saves. */
const MOST_KNOWN = 1 << 17;

/** No texts. One that comes again has the number of one like it, as long as not too many others came between. */
export function createTextTable(mostKnown: number = MOST_KNOWN): TextTable {
  const texts: string[] = [];
  const known = new Map<string, number>();
  return {
    add(text) {
      const before = known.get(text);
      if (before !== undefined) return before;
      if (known.size >= mostKnown) known.clear();
      const number = texts.length;
      texts.push(text);
      known.set(text, number);
      return number;
    },
    at: (number) => texts[number] as string,
  };
}
