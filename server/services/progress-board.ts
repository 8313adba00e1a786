/** How far the running analyses are. Lives as long as the process: what lasts is the state in the ledger. */
export interface ProgressBoard {
  note(subjectId: string, stage: string, fractionDone: number): void;
  /** Tells the followers of a subject that its state has changed. */
  change(subjectId: string): void;
  clear(subjectId: string): void;
  look(subjectId: string): { readonly stage: string; readonly fractionDone: number } | null;
  /** Calls back at each change until told to stop. */
  follow(subjectId: string, onChange: () => void): () => void;
}

export function progressBoard(): ProgressBoard {
  const notes = new Map<string, { stage: string; fractionDone: number }>();
  const followers = new Map<string, Set<() => void>>();
  const tell = (subjectId: string): void => {
    for (const onChange of followers.get(subjectId) ?? []) onChange();
  };
  return {
    note(subjectId, stage, fractionDone) {
      notes.set(subjectId, { stage, fractionDone });
      tell(subjectId);
    },
    change: tell,
    clear(subjectId) {
      notes.delete(subjectId);
      tell(subjectId);
    },
    look: (subjectId) => notes.get(subjectId) ?? null,
    follow(subjectId, onChange) {
      const all = followers.get(subjectId) ?? new Set();
      followers.set(subjectId, all.add(onChange));
      return () => {
        all.delete(onChange);
        if (all.size === 0) followers.delete(subjectId);
      };
    },
  };
}
