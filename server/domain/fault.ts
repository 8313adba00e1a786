import type { ServerFaultNumbers } from './server-fault.ts';

type NoNumbers = unknown;

/**
 * Every expected failure, with the numbers that explain it. The words stand in fault-sentence.ts.
 * `role` tells which input was refused, in the caller's own word for it ("after photo", "zone", "settings").
 */
interface FaultNumbers extends ServerFaultNumbers {
  'file-not-found': { role: string; path: string };
  'file-empty': { role: string };
  'photo-wrong-type': { found: string };
  'photo-truncated': { detail: string };
  'photo-too-small': { widthPx: number; heightPx: number; leastPx: number };
  'photo-too-large': { megapixels: number; mostMegapixels: number };
  'photo-animated': { frames: number };
  'photo-colour-model': { found: string };
  'photo-transparent': { share: number };
  'photo-exif-broken': { detail: string };
  'photo-icc-broken': { detail: string };
  'zone-malformed': { text: string; detail: string };
  'zone-outside-photo': { outsideShare: number };
  'zone-crosses-itself': { edges: readonly [number, number] };
  'zone-over-card': { overlapShare: number };
  'zone-too-small': { areaPx: number; leastPx: number };
  'zone-needs-card': NoNumbers;
  'zone-behind-camera': NoNumbers;
  'card-several': { count: number };
  'card-foreign': { markersSeen: number };
  'card-edition-unknown': { edition: number };
  'card-curved': { residualMm: number; mostMm: number };
  'card-cropped': { outsideMm: number };
  'card-incomplete': { markersSeen: number; markersNeeded: number };
  'card-too-small': { widthPx: number; leastPx: number };
  'card-values-malformed': { line: number; detail: string };
  'card-values-mismatch': { missing: readonly string[] };
  'settings-malformed': { path: string; detail: string };
  'history-malformed': { path: string; detail: string };
  'history-contradictory': { round: number; detail: string };
  'target-unknown': { target: string; known: readonly string[] };
  'trial-malformed': { path: string; detail: string };
  'trial-does-not-fit': { patches: number; widthMm: number; heightMm: number; leastSideMm: number };
  'trial-without-choice': { settings: number; patches: number };
  'trial-patches-differ': { missing: readonly string[] };
  'patch-contradictory': { detail: string };
  'quote-malformed': { path: string; detail: string };
  'photos-identical': NoNumbers;
  'photos-of-different-things': { detail: string };
  'nothing-measured': { unmeasuredShare: number };
  'model-missing': { model: string };
  'model-altered': { model: string; expected: string; found: string };
  'record-malformed': { path: string; detail: string };
  'record-version-unknown': { found: string; newest: string };
  'record-act-not-allowed': { act: string; state: string; detail: string };
  'record-file-differs': { path: string; detail: string };
  'seal-key-missing': NoNumbers;
  'backup-damaged': { path: string; detail: string };
  'folder-not-empty': { path: string };
  'bundle-too-large': { sizeBytes: number; mostBytes: number };
  'gauge-study-malformed': { path: string; detail: string };
  'gauge-photo-refused': { photo: string; detail: string };
  'time-stamp-refused': { detail: string };
}

export type FaultCode = keyof FaultNumbers;
export type Fault = { [Code in FaultCode]: { readonly code: Code } & Readonly<FaultNumbers[Code]> }[FaultCode];
export type FaultOf<Code extends FaultCode> = Extract<Fault, { code: Code }>;
