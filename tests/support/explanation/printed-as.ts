/**
 * Where the text of an explanation is kept, beside its test: regression of words and decimals. Whether its numbers are right is what
 * the test computes; `vitest -u` writes the text anew, and a person looks at what changed.
 */
export const printedAs = (name: string): string => `./printed/${name.replaceAll(/\W+/gu, '-')}.txt`;
