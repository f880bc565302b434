/**
 * A reader of delimited text that shares nothing with the one under test: a machine of four states over characters.
 * Returned: the records, blank lines left out; null where a quote stands where it must not, or is never closed.
 */
export function independentCsv(text: string, delimiter: string): readonly (readonly string[])[] | null {
  const records: string[][] = [];
  let record: string[] = [];
  let cell = '';
  let state: 'start' | 'plain' | 'quoted' | 'after-quote' = 'start';
  let hasContent = false;
  const endCell = (): void => {
    record.push(cell);
    cell = '';
    state = 'start';
  };
  const endRecord = (): void => {
    endCell();
    if (hasContent) records.push(record);
    record = [];
    hasContent = false;
  };
  for (let at = 0; at < text.length; at += 1) {
    const character = text.charAt(at);
    if (state === 'quoted') {
      if (character === '"') state = 'after-quote';
      else cell += character;
      continue;
    }
    if (character === '\r' || character === '\n') {
      if (character === '\r' && text.charAt(at + 1) === '\n') at += 1;
      endRecord();
      continue;
    }
    hasContent = true;
    if (character === delimiter) endCell();
    else if (character === '"') {
      if (state === 'plain') {
        // A quote that does not open a field is text.
        cell += character;
        continue;
      }
      if (state === 'after-quote') cell += '"';
      state = 'quoted';
    } else {
      if (state === 'after-quote') return null;
      state = 'plain';
      cell += character;
    }
  }
  if (state === 'quoted') return null;
  endRecord();
  return records;
}
