import type { Fault, FaultCode, FaultOf } from './fault.ts';
import { SERVER_FAULT_FACES } from './server-fault-sentence.ts';
import type { FaultHttpStatus } from './server-fault-sentence.ts';

interface FaultFace<Code extends FaultCode> {
  readonly httpStatus: FaultHttpStatus;
  /** One sentence for the operator: what is wrong, with its number and unit, and what to do. */
  readonly sentence: (fault: FaultOf<Code>) => string;
}

const percent = (share: number): string => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;

const FACES: { readonly [Code in FaultCode]: FaultFace<Code> } = {
  'file-not-found': {
    httpStatus: 404,
    sentence: (f) => `The ${f.role} "${f.path}" was not found; check the name and the folder.`,
  },
  'file-empty': {
    httpStatus: 422,
    sentence: (f) => `The ${f.role} is an empty file; copy it from the phone again.`,
  },
  'photo-wrong-type': {
    httpStatus: 415,
    sentence: (f) => `The photo is ${f.found}; expected JPEG, PNG, WebP, TIFF, AVIF or HEIC.`,
  },
  'photo-truncated': {
    httpStatus: 422,
    sentence: (f) => `The photo is damaged or cut short (${f.detail}); copy it from the phone again.`,
  },
  'photo-too-small': {
    httpStatus: 422,
    sentence: (f) =>
      `The photo is ${f.widthPx} x ${f.heightPx} px; at least ${f.leastPx} px on each side are needed to see the surface.`,
  },
  'photo-too-large': {
    httpStatus: 413,
    sentence: (f) =>
      `The photo has ${f.megapixels.toFixed(1)} megapixels; the most that is read is ${f.mostMegapixels}. Take it at a lower resolution.`,
  },
  'photo-animated': {
    httpStatus: 415,
    sentence: (f) => `The file holds ${f.frames} pictures; send one still photo.`,
  },
  'photo-colour-model': {
    httpStatus: 415,
    sentence: (f) => `The photo is stored as ${f.found}; colour needs an RGB photo straight from the camera.`,
  },
  'photo-transparent': {
    httpStatus: 415,
    sentence: (f) => `${percent(f.share)} of the picture is transparent; send the photo as the camera wrote it.`,
  },
  'photo-exif-broken': {
    httpStatus: 422,
    sentence: (f) =>
      `The photo's EXIF block is broken (${f.detail}), so which way is up is unknown; send the original file from the phone.`,
  },
  'photo-icc-broken': {
    httpStatus: 422,
    sentence: (f) =>
      `The photo's colour profile is broken (${f.detail}), so its colours are unknown; send the original file from the phone.`,
  },
  'zone-malformed': {
    httpStatus: 422,
    sentence: (f) => `The zone "${f.text}" cannot be read: ${f.detail}.`,
  },
  'zone-outside-photo': {
    httpStatus: 422,
    sentence: (f) =>
      `${percent(f.outsideShare)} of the zone lies outside the photo; move the zone or step back and retake.`,
  },
  'zone-crosses-itself': {
    httpStatus: 422,
    sentence: (f) =>
      `The zone's outline crosses itself (edge ${f.edges[0] + 1} meets edge ${f.edges[1] + 1}); give its corners in order around the zone.`,
  },
  'zone-over-card': {
    httpStatus: 422,
    sentence: (f) => `The card covers ${percent(f.overlapShare)} of the zone; move the card or the zone.`,
  },
  'zone-too-small': {
    httpStatus: 422,
    sentence: (f) =>
      `The zone covers only ${Math.round(f.areaPx)} pixels; at least ${f.leastPx} are needed. Move closer or choose a larger zone.`,
  },
  'zone-needs-card': {
    httpStatus: 422,
    sentence: () =>
      'The zone is given in millimetres but no card is in view; give it in pixels or retake the photo with the card.',
  },
  'zone-behind-camera': {
    httpStatus: 422,
    sentence: () => 'Part of the zone lies beyond the horizon of this view; photograph the surface more squarely.',
  },
  'card-several': {
    httpStatus: 422,
    sentence: (f) => `${f.count} reference cards are in view; leave exactly one.`,
  },
  'card-foreign': {
    httpStatus: 422,
    sentence: (f) =>
      `A card with ${f.markersSeen} markers that are not ours is in view; use the card printed by this program.`,
  },
  'card-edition-unknown': {
    httpStatus: 422,
    sentence: (f) => `The card is of edition ${f.edition}, which this version does not know; print a current card.`,
  },
  'card-curved': {
    httpStatus: 422,
    sentence: (f) =>
      `The card is bent: its marks miss a flat card by ${f.residualMm.toFixed(1)} mm (most allowed ${f.mostMm.toFixed(1)} mm); fix it to a stiff backing and retake.`,
  },
  'card-cropped': {
    httpStatus: 422,
    sentence: (f) =>
      `The card reaches ${Math.ceil(f.outsideMm)} mm out of the photo; retake with the whole card in view.`,
  },
  'card-incomplete': {
    httpStatus: 422,
    sentence: (f) =>
      `Only ${f.markersSeen} of the card's four corner markers can be read (${f.markersNeeded} are needed); wipe or uncover the card and retake.`,
  },
  'card-too-small': {
    httpStatus: 422,
    sentence: (f) =>
      `The card is only ${Math.round(f.widthPx)} px wide in the photo (at least ${f.leastPx} px are needed); move closer.`,
  },
  'card-values-malformed': {
    httpStatus: 422,
    sentence: (f) => `The card values cannot be read at line ${f.line}: ${f.detail}.`,
  },
  'card-values-mismatch': {
    httpStatus: 422,
    sentence: (f) =>
      `The card values lack ${f.missing.length} patches of this card (${f.missing.slice(0, 5).join(', ')}); measure every patch.`,
  },
  'settings-malformed': {
    httpStatus: 422,
    sentence: (f) => `The settings cannot be used: ${f.path === '' ? '' : `"${f.path}" `}${f.detail}.`,
  },
  'history-malformed': {
    httpStatus: 422,
    sentence: (f) => `The history cannot be used: ${f.path === '' ? '' : `"${f.path}" `}${f.detail}.`,
  },
  'history-contradictory': {
    httpStatus: 422,
    sentence: (f) => `Round ${f.round} contradicts the history: ${f.detail}.`,
  },
  'target-unknown': {
    httpStatus: 422,
    sentence: (f) => `The target grade "${f.target}" is not known; known are ${f.known.join(', ')}.`,
  },
  'trial-malformed': {
    httpStatus: 422,
    sentence: (f) => `The trial cannot be used: ${f.path === '' ? '' : `"${f.path}" `}${f.detail}.`,
  },
  'trial-does-not-fit': {
    httpStatus: 422,
    sentence: (f) =>
      `${f.patches} patches of at least ${f.leastSideMm} mm do not fit on a coupon of ${f.widthMm} x ${f.heightMm} mm; take a larger piece or fewer patches.`,
  },
  'trial-without-choice': {
    httpStatus: 422,
    sentence: (f) =>
      `At the width of the patches this machine has only ${f.settings} settings that differ, too few for ${f.patches} patches; take a larger piece or fewer patches.`,
  },
  'trial-patches-differ': {
    httpStatus: 422,
    sentence: (f) =>
      `The readings lack patches of the plan (${f.missing.slice(0, 6).join(', ')}); measure every patch.`,
  },
  'patch-contradictory': {
    httpStatus: 422,
    sentence: (f) =>
      `This test patch cannot be of this zone as it is now: ${f.detail}. Check its spot, its setting and what was left.`,
  },
  'quote-malformed': {
    httpStatus: 422,
    sentence: (f) => `The quote cannot be made: ${f.path === '' ? '' : `"${f.path}" `}${f.detail}.`,
  },
  'photos-identical': {
    httpStatus: 422,
    sentence: () => 'The before and after photo are the same file; choose the two photos again.',
  },
  'photos-of-different-things': {
    httpStatus: 422,
    sentence: (f) =>
      `The two photos do not go together: ${f.detail}. Check that both show the same zone, outlined alike and in the right order; if so, one was misread: take it again in even light.`,
  },
  'model-missing': {
    httpStatus: 409,
    sentence: (f) =>
      `The segmenter's model "${f.model}" is missing or cannot be read; restore the models folder, or ask for the colour segmenter.`,
  },
  'model-altered': {
    httpStatus: 409,
    sentence: (f) =>
      `The segmenter's model "${f.model}" is not the file that was evaluated (SHA-256 ${f.found.slice(0, 12)}, expected ${f.expected.slice(0, 12)}); restore it, or ask for the colour segmenter.`,
  },
  'nothing-measured': {
    httpStatus: 422,
    sentence: (f) =>
      `${percent(f.unmeasuredShare)} of the zone is glare, shadow, clipped or blurred; nothing is left to measure. Change the light and retake.`,
  },
  'record-malformed': {
    httpStatus: 422,
    sentence: (f) => `The record cannot be used: ${f.path === '' ? '' : `"${f.path}" `}${f.detail}.`,
  },
  'record-version-unknown': {
    httpStatus: 422,
    sentence: (f) =>
      `The record is written as "${f.found}"; this version reads up to "${f.newest}". Open it with a newer version.`,
  },
  'record-act-not-allowed': {
    httpStatus: 409,
    sentence: (f) =>
      `Nothing was changed: "${f.act}" is not possible on a record that is ${f.state}, because ${f.detail}.`,
  },
  'record-file-differs': {
    httpStatus: 409,
    sentence: (f) =>
      `The file "${f.path}" is not the one that the record names: ${f.detail}. Restore it from the backup.`,
  },
  'seal-key-missing': {
    httpStatus: 409,
    sentence: () =>
      'The key that sealed this record is not at hand; ask the administrator to restore it from the backup.',
  },
  'backup-damaged': {
    httpStatus: 422,
    sentence: (f) => `The backup cannot be used: "${f.path}", ${f.detail}. Take an earlier backup.`,
  },
  'folder-not-empty': {
    httpStatus: 409,
    sentence: (f) => `The folder "${f.path}" is not empty; choose one that is, so that nothing is written over.`,
  },
  'bundle-too-large': {
    httpStatus: 413,
    sentence: (f) =>
      `The bundle would take ${Math.ceil(f.sizeBytes / 1e6)} MB; at most ${Math.floor(f.mostBytes / 1e6)} MB can be written. Split the job into more zones.`,
  },
  'gauge-study-malformed': {
    httpStatus: 422,
    sentence: (f) => `The gauge study cannot be computed: ${f.path === '' ? '' : `"${f.path}" `}${f.detail}.`,
  },
  'gauge-photo-refused': {
    httpStatus: 422,
    sentence: (f) => `The gauge study cannot use ${f.photo}. ${f.detail}`,
  },
  'time-stamp-refused': {
    httpStatus: 422,
    sentence: (f) => `The time stamp cannot be used: ${f.detail}.`,
  },
  ...SERVER_FAULT_FACES,
};

const faceOf = <Code extends FaultCode>(code: Code): FaultFace<Code> => FACES[code];

export const FAULT_CODES = Object.keys(FACES) as readonly FaultCode[];
export const faultHttpStatus = (fault: Fault): number => FACES[fault.code].httpStatus;
export const faultSentence = (fault: Fault): string => (faceOf(fault.code) as FaultFace<FaultCode>).sentence(fault);
