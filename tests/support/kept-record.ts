/**
 * A record as text to be kept: numbers to six digits, what is near nothing as 0, members that a case does not need left out. For
 * regression alone: whether the numbers are right is what other tests hold.
 */
export function keptRecord(record: unknown, leftOut: readonly string[] = []): string {
  const text = JSON.stringify(
    record,
    (key, value: unknown) => {
      if (leftOut.includes(key)) return undefined;
      if (value instanceof Map) return [...value] as unknown;
      if (value instanceof Set) return [...value] as unknown;
      if (ArrayBuffer.isView(value)) return [...(value as Float64Array)];
      if (typeof value !== 'number') return value;
      if (!Number.isFinite(value)) return String(value);
      return Math.abs(value) < 1e-15 ? 0 : Number(value.toPrecision(6));
    },
    1,
  );
  // What holds no other list or record stands on one line.
  return `${text.replaceAll(/[[{][^[\]{}]*[\]}]/gu, (leaf) => leaf.replaceAll(/\n */gu, ' '))}\n`;
}
