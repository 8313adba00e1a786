/** One thing in the data folder that is not as it was: a file, a row, a seal. */
export interface InstallationProblem {
  /** "objects/ab/abc...", "audit row 12", "record 018f...", "assessment 018f..." */
  readonly where: string;
  readonly message: string;
}
