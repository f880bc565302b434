/** A place as a file holds it: degrees north and east, metres above the ellipsoid. */
export interface Place {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number;
}

export interface PlannedBase {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly km: number;
  readonly azimuthDeg: number;
  readonly heightM: number;
  readonly broadcastOffM: readonly [number, number, number];
  readonly antenna: {
    readonly kind: 'vertical' | 'slant';
    readonly heightM: number;
    readonly radiusM?: number;
    readonly offsetM?: number;
  };
}

export interface PlannedPoint {
  readonly id: string;
  readonly code: string;
  readonly km: number;
  readonly azimuthDeg: number;
  readonly heightM: number;
}

export interface PlannedStand {
  readonly point: string;
  readonly time: string;
  readonly seconds: number;
  readonly base: string;
  readonly tilt?: { readonly tiltDeg: number; readonly azimuthDeg: number };
}

export interface Planted {
  readonly pointId: string;
  readonly occupation: string;
  readonly what: string;
  readonly shown: string;
}

export interface DayPlan {
  readonly date: string;
  readonly origin: { readonly latitudeDeg: number; readonly longitudeDeg: number };
  readonly poleLengthM: number;
  readonly bases: readonly PlannedBase[];
  readonly points: readonly PlannedPoint[];
  readonly stands: readonly PlannedStand[];
  readonly planted: readonly Planted[];
}

/** One epoch, as in fixes.csv. */
export interface GeneratedFix extends Place {
  readonly pointId: string;
  readonly code: string;
  readonly epochMs: number;
  readonly solution: 'fixed' | 'float';
  readonly correctionAgeS: number;
  readonly satellitesUsed: number;
  readonly pdop: number;
  readonly sigmaEastM: number;
  readonly sigmaNorthM: number;
  readonly sigmaUpM: number;
  readonly baseId: string;
  readonly poleLengthM: number;
  readonly tiltDeg: number | null;
  readonly tiltAzimuthDeg: number | null;
}

export interface GeneratedPoint {
  readonly settings: PlannedPoint;
  readonly place: Place;
  readonly geoidHeightM: number;
  readonly orthometricHeightM: number;
}

export interface GeneratedDay {
  readonly plan: DayPlan;
  readonly bases: readonly {
    readonly settings: PlannedBase;
    readonly mark: Place;
    readonly known: Place;
    readonly broadcast: Place;
  }[];
  readonly points: readonly GeneratedPoint[];
  readonly fixes: readonly GeneratedFix[];
  readonly planted: readonly Planted[];
  /** Text of session.toml. */
  readonly session: string;
}

export const DAY_SEED: number;
export function generateDay(seed: number, options?: { readonly plan?: DayPlan }): GeneratedDay;
export function dayFiles(seed: number): Readonly<Record<string, string>>;
