import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** nav-unreadable at a line, counted from 1. */
export function navFault(line: number, message: string, expected?: string): Problem {
  return errorProblem('nav-unreadable', { message, where: { line }, ...(expected !== undefined && { expected }) });
}

/** nav-implausible at a line: numbers that were read, and are no orbit of a satellite. */
export function implausible(line: number, message: string, expected: string): Problem {
  return errorProblem('nav-implausible', { message, where: { line }, expected });
}
