import type { Context } from '../context.js';
import { visibleText } from './visible-text.js';

const FIRST_AFTER_MS = 1000;
const EVERY_MS = 200;

export interface Progress {
  /** Call as often as wanted; writes at most five times a second. */
  update(text: string): void;
  /** Erases the line. */
  clear(): void;
}

/** One line on a terminal's standard error, from the second second on; nothing elsewhere. */
export function createProgress(context: Context, allowed: boolean): Progress {
  if (!allowed || context.stderr.isTTY !== true) return { update: () => undefined, clear: () => undefined };
  const started = performance.now();
  let last = 0;
  let width = 0;
  return {
    update(text) {
      const now = performance.now();
      if (now - started < FIRST_AFTER_MS || now - last < EVERY_MS) return;
      last = now;
      const line = visibleText(text).slice(0, Math.max(10, (context.stderr.columns ?? 80) - 1));
      context.stderr.write(`\r${line.padEnd(width)}`);
      width = line.length;
    },
    clear() {
      if (width > 0) context.stderr.write(`\r${' '.repeat(width)}\r`);
      width = 0;
    },
  };
}
