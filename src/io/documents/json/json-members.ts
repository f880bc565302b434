import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { isDeeperThan } from './json-depth.js';

/** No length, factor or variance of ours comes near it, and products of such numbers stay finite. */
const LARGEST = 1e12;

/** Reads the members of a JSON document by kind and remembers what was not of that kind. */
export interface JsonMembers {
  readonly number: (key: string) => number;
  readonly numberOrNull: (key: string) => number | null;
  readonly text: (key: string) => string;
  readonly textOrNull: (key: string) => string | null;
  /** Null where there is no such member. */
  readonly textIfAny: (key: string) => string | null;
  /** A list of numbers of the given length. Numbers beyond ±1e12 are none of ours. */
  readonly numbers: (key: string, length: number) => readonly number[];
  readonly texts: (key: string) => readonly string[];
  readonly object: (key: string) => JsonMembers;
  readonly objectOrNull: (key: string) => JsonMembers | null;
  readonly objects: (key: string) => readonly JsonMembers[];
  /** Empty where there is no such member. */
  readonly objectsIfAny: (key: string) => readonly JsonMembers[];
  /** Adds a problem at a member. */
  readonly refuse: (key: string, expected: string) => void;
}

/** Members of a value that should be an object. `problems` collects record-schema errors with their path. */
export function jsonMembers(value: unknown, source: string, path: string, problems: Problem[]): JsonMembers {
  const isObject = typeof value === 'object' && value !== null && !Array.isArray(value);
  const members: Readonly<Record<string, unknown>> = isObject ? (value as Record<string, unknown>) : {};
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  const refuse = (key: string, expected: string): void => {
    const received = Object.hasOwn(members, key) ? shown(members[key]) : 'nothing';
    problems.push(notAsExpected(received, expected, { source, path: at(key) }));
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
    if (isUsable(found)) return found;
    refuse(key, 'a number');
    return 0;
  };
  const text = (key: string): string => {
    const found = get(key);
    if (typeof found === 'string') return found;
    refuse(key, 'a text');
    return '';
  };
  const absent = (key: string): null => {
    if (get(key) !== undefined) refuse(key, 'a text');
    return null;
  };
  const objects = (key: string): readonly JsonMembers[] =>
    list(key).map((entry, index) => jsonMembers(entry, source, `${at(key)}[${index}]`, problems));
  return {
    number,
    numberOrNull: (key) => (get(key) === null ? null : number(key)),
    text,
    textOrNull: (key) => (get(key) === null ? null : text(key)),
    textIfAny: (key) => (typeof get(key) === 'string' ? text(key) : absent(key)),
    numbers(key, length) {
      const found = list(key);
      if (found.length === length && found.every(isUsable)) return found;
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
    objects,
    objectsIfAny: (key) => (get(key) === undefined ? [] : objects(key)),
    refuse,
  };
}

function notAsExpected(received: string, expected: string, where: { source: string; path: string }): Problem {
  const message = `is ${received} and should be ${expected}`;
  return errorProblem('record-schema', { message, where, received, expected });
}

function isUsable(value: unknown): value is number {
  return typeof value === 'number' && Math.abs(value) <= LARGEST;
}

function shown(value: unknown): string {
  return isDeeperThan(value, 8) ? 'deeply nested' : JSON.stringify(value).slice(0, 60);
}
