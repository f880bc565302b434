/** What the terminal says of a noisy day, as a sentence of a page: it begins one, and names no option of a command. */
export function dayWords(line: string): string {
  const said = line.replace(/ \(--[^)]*\)/u, '');
  return `${said.slice(0, 1).toUpperCase()}${said.slice(1)}`;
}
