import { errorProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';

/** Reads the members of a JSON document by kind and remembers what was not of that kind. */
export interface JsonMembers {
  readonly number: (key: string) => number;
  readonly numberOrNull: (key: string) => number | null;
  readonly text: (key: string) => string;
  readonly textOrNull: (key: string) => string | null;
  /** A list of numbers of the given length. */
  readonly numbers: (key: string, length: number) => readonly number[];
  readonly texts: (key: string) => readonly string[];
  readonly object: (key: string) => JsonMembers;
  readonly objectOrNull: (key: string) => JsonMembers | null;
  readonly objects: (key: string) => readonly JsonMembers[];
  /** Adds a problem at a member. */
  readonly refuse: (key: string, expected: string) => void;
}

/** Members of a value that should be an object. `problems` collects record-schema errors with their path. */
export function jsonMembers(value: unknown, source: string, path: string, problems: Problem[]): JsonMembers {
  const isObject = typeof value === 'object' && value !== null && !Array.isArray(value);
  const members: Readonly<Record<string, unknown>> = isObject ? (value as Record<string, unknown>) : {};
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  const refuse = (key: string, expected: string): void => {
    const received = Object.hasOwn(members, key) ? JSON.stringify(members[key]).slice(0, 60) : 'nothing';
    problems.push(errorProblem('record-schema', { message: `is ${received} and should be ${expected}`, where: { source, path: at(key) }, received, expected }));
  };
  if (!isObject) refuse('', 'an object');
  const get = (key: string): unknown => (Object.hasOwn(members, key) ? members[key] : undefined);
  const list = (key: string): readonly unknown[] => {
    const found = get(key);
    if (Array.isArray(found)) return found;
    refuse(key, 'a list');
    return [];
  };
  const number = (key: string): number => {
    const found = get(key);
    if (typeof found === 'number' && Number.isFinite(found)) return found;
    refuse(key, 'a number');
    return 0;
  };
  const text = (key: string): string => {
    const found = get(key);
    if (typeof found === 'string') return found;
    refuse(key, 'a text');
    return '';
  };
  return {
    number,
    numberOrNull: (key) => (get(key) === null ? null : number(key)),
    text,
    textOrNull: (key) => (get(key) === null ? null : text(key)),
    numbers(key, length) {
      const found = list(key);
      if (found.length === length && found.every((entry) => typeof entry === 'number' && Number.isFinite(entry))) return found as readonly number[];
      refuse(key, `${length} numbers`);
      return new Array<number>(length).fill(0);
    },
    texts(key) {
      const found = list(key);
      if (found.every((entry) => typeof entry === 'string')) return found;
      refuse(key, 'a list of texts');
      return [];
    },
    object: (key) => jsonMembers(get(key) ?? {}, source, at(key), problems),
    objectOrNull: (key) => (get(key) === null ? null : jsonMembers(get(key) ?? {}, source, at(key), problems)),
    objects: (key) => list(key).map((entry, index) => jsonMembers(entry, source, `${at(key)}[${index}]`, problems)),
    refuse,
  };
}
