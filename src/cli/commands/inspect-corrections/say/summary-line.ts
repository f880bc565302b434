import type { FoundCorrections } from '../write-corrections.js';

/** The last line: what was looked at, and the answer. `bases`: of the session; null without one. */
export function summaryLine({ audit, link, answer }: FoundCorrections, bases: number | null): string {
  const parts = [
    ...(audit === null ? [] : [`${counted(audit.stations.length, 'station')}, ${counted(audit.frames.good, 'frame')}`]),
    ...(audit === null || bases === null ? [] : [`${counted(bases, 'base')} of the session held against them`]),
    ...(link === null
      ? []
      : [`${counted(link.epochs, 'epoch')}, ${counted(link.outages.listed.length + link.outages.leftOut, 'outage')}`]),
  ];
  return `${parts.join('; ')}: ${answer.answer}`;
}

function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}
