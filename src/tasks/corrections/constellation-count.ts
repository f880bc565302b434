import { signalName } from '../../core/corrections/signal-names.js';
import { largestOf } from '../../core/numeric/extremes.js';
import type { Constellation, ObservationsMessage } from '../../records/corrections/correction-message.js';
import type { SentConstellation } from '../../records/corrections/correction-audit.js';

interface Count {
  readonly numbers: Set<number>;
  readonly signals: Set<number>;
  epochs: number;
  satellites: number;
  most: number;
  /** Satellites of the epoch that is open, by the number of the message. */
  readonly open: Map<number, number>;
  openMs: number;
}

/**
 * Counts what a station sends of each constellation. Of an epoch whose satellites come in several messages of one number, since together
 * they need more cells than one may have, all are counted; messages of different numbers say the same satellites again.
 */
export function createConstellationCount(): {
  readonly add: (message: ObservationsMessage) => void;
  readonly result: () => readonly SentConstellation[];
} {
  const counts = new Map<Constellation, Count>();
  return {
    add({ constellation, number, signals, satellites, timeMs }) {
      const own = counts.get(constellation) ?? {
        ...{ numbers: new Set<number>(), signals: new Set<number>() },
        ...{ epochs: 0, satellites: 0, most: 0, open: new Map<number, number>(), openMs: timeMs },
      };
      counts.set(constellation, own);
      own.numbers.add(number);
      for (const signal of signals) own.signals.add(signal);
      if (timeMs !== own.openMs) {
        close(own);
        own.openMs = timeMs;
      }
      // A number that did not come yet in this epoch has said no satellite.
      own.open.set(number, (own.open.get(number) ?? 0) + satellites);
    },
    result: () =>
      [...counts].map(([constellation, own]) => {
        close(own);
        return {
          constellation,
          messages: [...own.numbers].sort((a, b) => a - b),
          signals: [...own.signals].sort((a, b) => a - b).map((signal) => signalName(constellation, signal)),
          meanSatellites: own.satellites / own.epochs,
          mostSatellites: own.most,
        };
      }),
  };
}

/** Takes in the epoch that is open. */
function close(own: Count): void {
  if (own.open.size === 0) return;
  const satellites = largestOf([...own.open.values()]);
  own.open.clear();
  own.epochs += 1;
  own.satellites += satellites;
  own.most = Math.max(own.most, satellites);
}
