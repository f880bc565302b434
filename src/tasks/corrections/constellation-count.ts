import { signalName } from '../../core/corrections/signal-names.js';
import type { Constellation, ObservationsMessage } from '../../records/corrections/correction-message.js';
import type { SentConstellation } from '../../records/corrections/correction-audit.js';

interface Count {
  readonly numbers: Set<number>;
  readonly signals: Set<number>;
  messages: number;
  satellites: number;
  most: number;
}

/** Counts what a station sends of each constellation. */
export function createConstellationCount(): {
  readonly add: (message: ObservationsMessage) => void;
  readonly result: () => readonly SentConstellation[];
} {
  const counts = new Map<Constellation, Count>();
  return {
    add({ constellation, number, signals, satellites }) {
      const own = counts.get(constellation) ?? {
        ...{ numbers: new Set<number>(), signals: new Set<number>() },
        ...{ messages: 0, satellites: 0, most: 0 },
      };
      counts.set(constellation, own);
      own.numbers.add(number);
      for (const signal of signals) own.signals.add(signal);
      own.messages += 1;
      own.satellites += satellites;
      own.most = Math.max(own.most, satellites);
    },
    result: () =>
      [...counts].map(([constellation, { numbers, signals, messages, satellites, most }]) => ({
        constellation,
        messages: [...numbers].sort((a, b) => a - b),
        signals: [...signals].sort((a, b) => a - b).map((signal) => signalName(constellation, signal)),
        meanSatellites: satellites / messages,
        mostSatellites: most,
      })),
  };
}
