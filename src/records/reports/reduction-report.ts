import type { SurveySpan } from './parts/survey-span.js';
import type { DayLink } from '../corrections/link-report.js';
import type { LocalVector } from '../points/point.js';
import type { ProblemCode } from '../codes/problem-codes.js';
import type { FileDigest } from '../runs/provenance.js';
import type { PointVerdict, ReducedPoint } from '../points/reduced-point.js';
import type { AcceptanceSettings, ToleranceSettings } from '../session.js';
import type { Answer } from '../runs/run-answer.js';
import type { OccupationSky } from './parts/occupation-sky.js';
import type { PageFacts } from './parts/page-facts.js';

/** An axis of the grid, as a figure and a table name it. */
export interface ReportAxis {
  readonly columnName: string;
  readonly name: string;
  readonly abbreviation: string;
  readonly direction: 'east' | 'west' | 'north' | 'south';
  readonly unitName: string;
  readonly metresPerUnit: number;
}

/** The frame that every position of a page belongs to. */
export interface ReportFrame {
  readonly gridName: string;
  readonly gridMethod: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  /** Geographic system of the fixes. */
  readonly fixesName: string;
  readonly epochYear: number | null;
  /** What carries points from there to the frame of the grid; null: they are one frame. */
  readonly shift: string | null;
  /** Geographic system of the grid and so of the points. */
  readonly pointsName: string;
}

export interface ReportGeoid {
  readonly name: string;
  readonly interpolation: string;
  readonly sha256: string | null;
  /** One value of the grid in words, by which it is told from another of its name. */
  readonly test: string | null;
  /** One sigma of the geoid height; null: not stated. */
  readonly sigmaM: number | null;
}

/** A place in the axes and unit of the grid. */
export interface ReportPlace {
  readonly first: number;
  readonly second: number;
}

/** A line of equal distance from a base. */
export interface ReportRing {
  /** Between it and the next of its set; a base has a wide set, and a narrow one for details. */
  readonly stepM: number;
  readonly radiusM: number;
  readonly places: readonly ReportPlace[];
}

/** A base, what its known coordinate moved, and what that cannot mend. */
export interface ReportBase {
  readonly id: string;
  /** Null where the base lies outside the grid. */
  readonly place: ReportPlace | null;
  readonly at: 'mark' | 'arp';
  readonly antennaVerticalM: number | null;
  readonly sigmaHorizontalM: number | null;
  readonly sigmaVerticalM: number | null;
  /** Known minus broadcast; null where no known coordinate is given. */
  readonly correction: {
    readonly magnitudeM: number;
    readonly local: LocalVector;
    readonly shortcutErrorM: number | null;
    readonly bend: ReportBend | null;
  } | null;
  /** Of the points measured from it. */
  readonly farthestM: number | null;
  readonly rings: readonly ReportRing[];
}

/** What a wrong base coordinate left in its vectors, one sigma at the farthest point in the direction that bends most. */
export interface ReportBend {
  readonly planM: number;
  readonly upM: number;
  /** The baseline from which it may matter; null: within no reach. */
  readonly mattersFromM: number | null;
}

/** An epoch as it is drawn: from the mean, or from the first epoch where there is no mean. */
export interface ReportEpoch {
  /** Since the first epoch of the occupation, or the number of the epoch where times are not stated. */
  readonly timeS: number;
  readonly offset: LocalVector;
  readonly used: boolean;
}

/** Drift and step of one axis over an occupation, and what they were held against. */
export interface ReportTrend {
  readonly driftM: number;
  readonly driftSigmaM: number;
  readonly isDrift: boolean;
  readonly stepM: number;
  readonly stepSigmaM: number;
  readonly isStep: boolean;
  /** Of the first epoch after the step, as in `ReportEpoch`. */
  readonly stepTimeS: number | null;
}

/** One occupation, its epochs thinned for drawing. */
export interface ReportOccupation {
  readonly pointId: string;
  readonly occupation: string;
  readonly verdict: PointVerdict;
  readonly reasons: readonly ProblemCode[];
  readonly baseId: string | null;
  readonly baselineM: number | null;
  readonly firstMs: number | null;
  readonly hasTimes: boolean;
  readonly hasMean: boolean;
  /** In epochs, a mean counting as many. */
  readonly usedCount: number;
  readonly refusedCount: number;
  readonly refusals: readonly (readonly [ProblemCode, number])[];
  /** How many there were before thinning. */
  readonly epochCount: number;
  readonly epochs: readonly ReportEpoch[];
  readonly trends: { readonly east: ReportTrend; readonly north: ReportTrend; readonly up: ReportTrend } | null;
  /** Root mean square horizontal distance of the used epochs from their mean. */
  readonly spreadM: number | null;
  readonly circle95M: number | null;
}

/** Epochs counted by time. */
export interface ReportTimeline {
  readonly startMs: number;
  readonly binMs: number;
  /** Used epochs in each bin. */
  readonly used: readonly number[];
  readonly refused: readonly { readonly code: ProblemCode; readonly counts: readonly number[] }[];
}

/** Two occupations of one point compared. */
export interface ReportRepeat {
  readonly pointId: string;
  readonly first: string;
  readonly second: string;
  readonly difference: LocalVector;
  /** Its 95 % limit is 5.991. */
  readonly horizontalStatistic: number;
  /** Its 95 % limit is 1.960. */
  readonly verticalStatistic: number;
  readonly disagrees: boolean;
  readonly separationS: number | null;
  readonly tooSoon: boolean | null;
}

export interface ReportExtreme {
  readonly valueM: number;
  readonly pointId: string;
}

/** A file that numbers come from. */
export interface ReportFile extends FileDigest {
  readonly kind: string;
  readonly rowsRead: number;
  readonly rowsRejected: number;
}

/** Everything the page of a reduction says. Lists are bounded; what was left out is counted. */
export interface ReductionReport extends PageFacts {
  /** The sky over doubtful occupations; absent: no navigation file was named. */
  readonly skies?: readonly OccupationSky[];
  readonly title: string | null;
  readonly answer: Answer;
  /** What is said of a day noisier than its model. */
  readonly day: readonly string[];
  /** What is said of occupations that a job left out or renamed; empty without one. */
  readonly edits: readonly string[];
  readonly verdicts: Readonly<Record<PointVerdict, number>>;
  readonly epochsUsed: number;
  readonly epochsRefused: number;
  readonly rowsSkipped: number;
  readonly farthest: ReportExtreme | null;
  readonly worstCircle95: ReportExtreme | null;
  readonly worstVertical95: ReportExtreme | null;
  readonly tolerance: ToleranceSettings;
  readonly acceptance: AcceptanceSettings;
  readonly conditions: string;
  readonly frame: ReportFrame;
  readonly geoid: ReportGeoid | null;
  readonly bases: readonly ReportBase[];
  readonly points: readonly ReducedPoint[];
  readonly pointsLeftOut: number;
  readonly occupations: readonly ReportOccupation[];
  readonly occupationsLeftOut: number;
  readonly refusals: readonly (readonly [ProblemCode, number])[];
  /** Instants of the first and the last epoch; null: none is stated. */
  readonly surveyed: SurveySpan | null;
  /** The link of each day whose epochs say how old their corrections were. */
  readonly links: readonly DayLink[];
  /** Null where no epoch states its time. */
  readonly timeline: ReportTimeline | null;
  /** Points whose occupations were compared, null: none was looked for; and those whose occupations disagree. */
  readonly pointsRepeated: number | null;
  readonly pointsInDispute: number;
  /** Null: repeats were not joined, and are not listed pair by pair. */
  readonly repeats: readonly ReportRepeat[] | null;
  readonly repeatsLeftOut: number;
}
