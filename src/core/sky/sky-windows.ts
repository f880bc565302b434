import type { Answer } from '../../records/runs/run-answer.js';
import type { SkyEpoch, SkyLimits, SkyReason, SkyWindow } from '../../records/sky/site-sky.js';

/** Why an instant misses the limits; nothing: it meets them. A geometry that places no point misses every limit of PDOP. */
export function skyReasons(satellites: number, pdop: number | null, limits: SkyLimits): readonly SkyReason[] {
  return [
    ...(satellites < limits.satellites ? (['sky-few-satellites'] as const) : []),
    ...(pdop === null || pdop > limits.pdop ? (['sky-high-pdop'] as const) : []),
  ];
}

/** Instants one after the other as windows that meet the limits or miss them. Given: instants in the order of time; when the last one ends. */
export function skyWindows(epochs: readonly SkyEpoch[], endMs: number): readonly SkyWindow[] {
  const windows: SkyWindow[] = [];
  for (const epoch of epochs) {
    const isGood = epoch.reasons.length === 0;
    const last = windows.at(-1);
    if (last?.isGood === isGood) windows[windows.length - 1] = { ...widened(last, epoch), toMs: endMs };
    else {
      if (last !== undefined) windows[windows.length - 1] = { ...last, toMs: epoch.utcMs };
      windows.push({
        fromMs: epoch.utcMs,
        toMs: endMs,
        isGood,
        fewestSatellites: epoch.satellites,
        largestPdop: epoch.dilution?.pdop ?? null,
        reasons: epoch.reasons,
      });
    }
  }
  return windows;
}

function widened(window: SkyWindow, { satellites, dilution, reasons }: SkyEpoch): SkyWindow {
  return {
    ...window,
    fewestSatellites: Math.min(window.fewestSatellites, satellites),
    largestPdop: window.largestPdop === null || dilution === null ? null : Math.max(window.largestPdop, dilution.pdop),
    reasons: [...new Set([...window.reasons, ...reasons])].sort(),
  };
}

/** What windows say of a site: all of the time meets the limits, some of it, or none. */
export function windowsVerdict(windows: readonly SkyWindow[]): Answer {
  if (windows.every(({ isGood }) => isGood)) return 'within';
  return windows.some(({ isGood }) => isGood) ? 'review' : 'no';
}
