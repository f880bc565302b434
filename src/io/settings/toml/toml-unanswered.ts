/** What stands in a drafted file where an answer is still to be written. */
const UNANSWERED = '?';

/** The paths of the settings of a document that are still to be answered. */
export function unansweredPaths(value: unknown, path: string): readonly string[] {
  if (value === UNANSWERED) return [path];
  if (typeof value !== 'object' || value === null || value instanceof Date) return [];
  if (!Array.isArray(value))
    return Object.entries(value).flatMap(([key, entry]: [string, unknown]) =>
      unansweredPaths(entry, path === '' ? key : `${path}.${key}`),
    );
  const entries = value as readonly unknown[];
  const isOfTables = entries.every((entry) => typeof entry === 'object');
  return [
    ...new Set(
      entries.flatMap((entry, index) => unansweredPaths(entry, isOfTables ? `${path}[${String(index)}]` : path)),
    ),
  ];
}

/** What is said of one: message and hint. */
export const UNANSWERED_TEXTS: readonly [message: string, hint: string] = [
  'is still "?"',
  'write the answer in its place; the comments above it say what is asked',
];
