import type { Location } from '../../../records/problem.js';

/** `file:line:field`, or the path inside a structured file. */
export function placeText(where: Location | undefined): string {
  if (where === undefined) return '';
  // What is of no file is told without one.
  let text = where.source ?? '';
  if (where.line !== undefined && where.line > 0) text += `:${where.line}`;
  if (where.line !== undefined && where.line > 0 && where.field !== undefined) text += `:${where.field}`;
  if (where.path !== undefined) text += text === '' ? where.path : `: ${where.path}`;
  if (where.column !== undefined) text += text === '' ? where.column : `: ${where.column}`;
  return text;
}
