import type { Answer } from '../runs/run-answer.js';

/** A coordinate or another fact in words, as it stands on paper. */
export interface DeliveryFact {
  readonly name: string;
  readonly value: string;
}

/** A base as the work used it. */
export interface DeliveryBase {
  readonly id: string;
  /** The days it was used so; empty: all. */
  readonly days: readonly string[];
  /** `known` (what the coordinates rest on) or `broadcast` where nothing else is known of it. */
  readonly kind: 'known' | 'broadcast';
  readonly place: readonly DeliveryFact[];
}

/** A check that is part of a delivery. */
export interface DeliveryCheck {
  readonly command: string;
  /** What was held against what, in words. */
  readonly what: string;
  readonly answer: Answer | 'error';
  /** Counts by verdict. */
  readonly counts: ReadonlyMap<string, number>;
  /** Standards, limits and methods, in words. */
  readonly by: readonly string[];
  /** Reasons of what is not within, by their codes. */
  readonly reasons: ReadonlyMap<string, number>;
  /** What its delivered table says is beyond, metres, the farthest against its limit first; none where there is no such table. */
  readonly beyond: readonly (DeliveryFact & { readonly at: string })[];
  /** The largest differences that it found, metres, and at what; none where its record names none. */
  readonly largest: readonly (DeliveryFact & { readonly at: string })[];
}

/** What the front sheet of a delivery says. */
export interface DeliveryReport {
  readonly title: string;
  readonly client: string | null;
  readonly surveyor: string | null;
  /** Who held the rover, and with what was measured. */
  readonly observers: readonly string[];
  readonly instruments: readonly string[];
  /** Of the last run. */
  readonly timeUtc: string;
  readonly toolVersion: string;
  readonly days: readonly string[];
  readonly firstEpoch: string | null;
  readonly lastEpoch: string | null;
  readonly answer: Answer | 'error';
  /** Occupations by verdict. */
  readonly counts: ReadonlyMap<string, number>;
  /** Points that were rejected in every occupation, in the order of the list. */
  readonly rejected: readonly string[];
  /** Points of which an occupation is for review, in the order of the list. */
  readonly review: readonly string[];
  /** Reasons of what is not accepted, by their codes. */
  readonly reasons: ReadonlyMap<string, number>;
  /** Points with a coordinate, and the corners of where they are. */
  readonly points: number;
  readonly extent: readonly DeliveryFact[];
  /** The largest 95 % figures that the list states, metres, as it writes them; null: it states none. */
  readonly worst: { readonly plan: DeliveryFact | null; readonly height: DeliveryFact | null };
  readonly systems: readonly DeliveryFact[];
  /** Geoid models, with their digests. */
  readonly grids: readonly (DeliveryFact & {
    readonly sha256: string | null;
    /** One value of a geoid in words; null: none, or not of a geoid. */
    readonly test: string | null;
  })[];
  readonly bases: readonly DeliveryBase[];
  readonly checks: readonly DeliveryCheck[];
  /** What was left out or renamed, in words. */
  readonly edits: readonly string[];
  /** What is not in the delivery, and why. */
  readonly notes: readonly string[];
  /** SHA-256 of the coordinate list, and of the last line of the ledger. */
  readonly coordinatesSha256: string;
  readonly ledgerSha256: string;
}
