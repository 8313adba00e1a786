import type {
  GradeDecision,
  RecordPhoto,
  StreakKind,
  Streaks,
  Surface,
  SurfaceClass,
  WorstUnitArea,
} from '../../domain/index.ts';

/** A line of two: what it is, and how it stands; `isEntered` marks what a person typed in. */
export interface ReportFact {
  readonly label: string;
  readonly value: string;
  readonly note?: string;
  readonly isEntered?: boolean;
}

export interface KeyFigure {
  readonly label: string;
  readonly value: string;
  /** Interval or explanation below the figure. */
  readonly note: string;
}

export interface GradeLine {
  readonly standard: string;
  readonly grade: string;
  readonly decision: GradeDecision;
  readonly because: string;
  readonly isAsked: boolean;
}

export interface ShareLine {
  readonly name: SurfaceClass;
  readonly before: { readonly share: number; readonly text: string } | null;
  readonly after: { readonly share: number; readonly text: string };
}

/** What a printer needs to bring one photo and its classes to paper at scale. */
export interface ReportPicture {
  readonly title: string;
  readonly photo: RecordPhoto;
  /** When, which file, and how well it could be read. */
  readonly notes: readonly string[];
  readonly worstSquare: WorstUnitArea | null;
  /** For readers who cannot see it. */
  readonly description: string;
}

export interface RoundLine {
  readonly number: number;
  readonly at: string;
  readonly power: string;
  readonly scanWidth: string;
  readonly frequency: string;
  readonly travel: string;
  readonly passes: string;
  readonly minutes: string;
  readonly residueBefore: string;
  readonly residueAfter: string;
  readonly streaks: string;
  readonly before: ReportPicture | null;
  readonly after: ReportPicture;
}

export interface StreakFinding {
  readonly kind: StreakKind | null;
  readonly found: Streaks['found'];
  readonly sentence: string;
  readonly facts: readonly ReportFact[];
}

/** What people's corrections come to, decided by the same rules as what was measured. */
export interface CorrectedFinding {
  readonly sentence: string;
  /** Null where an earlier version kept no corrected map. */
  readonly picture: ReportPicture | null;
  readonly shares: readonly ShareLine[];
  readonly facts: readonly ReportFact[];
  readonly grades: readonly GradeLine[];
}

export interface ReportVerdict {
  readonly word: 'Accepted' | 'Rejected' | 'Not signed';
  readonly mark: 'tick' | 'cross' | 'pen';
  readonly sentence: string;
  readonly reason: string | null;
}

/** Everything that the report says, in words and in order; a printer only lays it out. */
export interface Report {
  readonly recordId: string;
  readonly recordSha256: string;
  /** Date of the document: when the record was signed, else the last thing that happened to it. */
  readonly date: string;
  readonly title: string;
  readonly subtitle: string;
  readonly notices: readonly string[];
  readonly verdict: ReportVerdict;
  readonly asked: GradeLine | null;
  /** The same grade on the corrected map; null without corrections. */
  readonly askedCorrected: GradeLine | null;
  readonly askedWords: string;
  readonly summary: readonly string[];
  readonly figures: readonly KeyFigure[];
  readonly facts: readonly ReportFact[];
  readonly shares: readonly ShareLine[];
  readonly before: ReportPicture | null;
  readonly after: ReportPicture;
  readonly worstSquare: { readonly sentence: string; readonly facts: readonly ReportFact[] } | null;
  readonly streaks: StreakFinding;
  readonly rounds: readonly RoundLine[];
  readonly grades: readonly GradeLine[];
  readonly corrected: CorrectedFinding | null;
  readonly readings: readonly ReportFact[];
  readonly instruments: readonly ReportFact[];
  readonly remarks: readonly ReportFact[];
  readonly corrections: readonly ReportFact[];
  readonly method: readonly ReportFact[];
  readonly warnings: readonly string[];
  readonly cautions: readonly string[];
  readonly limits: readonly string[];
  readonly signature: readonly ReportFact[];
  readonly files: readonly { readonly path: string; readonly sha256: string }[];
  readonly qrText: string;
  readonly lengthUnit: 'mm' | 'inch';
  /** After the last round. */
  readonly surface: Surface;
}
