import { answerWords } from './answer-words.ts';
import { checkWords } from './check-words.ts';
import { compareWords } from './compare-words.ts';
import { doorWords } from './door-words.ts';
import { inspectWords } from './inspect-words.ts';
import { recordWords } from './record-words.ts';
import { patchWords } from './patch-words.ts';
import { planningWords } from './planning-words.ts';
import { shopWords } from './shop-words.ts';
import { storyWords } from './story-words.ts';
import { teachWords } from './teach-words.ts';
import { workWords } from './work-words.ts';

export const english = {
  programName: 'Bareplate',
  waiting: 'One moment',
  tryAgain: 'Try again',
  cancel: 'Cancel',
  search: 'Search',
  more: 'Show more',
  invented: 'invented',
  skip: 'Go to the content',
  offline: 'No signal. What you enter is kept here; photos go on by themselves when the signal is back.',
  nav: { label: 'Main', check: 'Check', zones: 'Zones', jobs: 'Jobs', more: 'More' },
  errors: {
    noSignal: 'The program does not answer. Check the network of the shop and try again.',
    unreadable: (status: number): string =>
      `The program answered in a way that cannot be read (status ${status}). Try again.`,
    fileTooLarge: (mebibytes: number): string =>
      `The photo is larger than ${mebibytes} MiB. Take it at a lower resolution.`,
    uploadBroke: 'The signal was lost before the photo was there. Choose it again: it goes on where it stopped.',
    screenBroke: 'This screen broke. Load it again; nothing that was sent is lost.',
    reload: 'Load again',
    noSuchPage: 'There is no such page',
    noSuchPageHint: 'The address may be old, or a thing was removed.',
  },
  stepper: {
    less: (label: string): string => `${label}: less`,
    more: (label: string): string => `${label}: more`,
  },
  settings: {
    powerW: 'Power',
    scanWidthMm: 'Scan width',
    scanFrequencyHz: 'Frequency',
    travelSpeedMmPerS: 'Travel speed',
    passes: 'Passes',
    passesUnit: (count: number): string => (count === 1 ? 'pass' : 'passes'),
  },
  classes: {
    bare: 'bare',
    stain: 'stain',
    rust: 'rust',
    scale: 'scale',
    coating: 'coating',
    notMeasured: 'not measured',
  },
  ...doorWords,
  ...checkWords,
  ...answerWords,
  ...storyWords,
  ...workWords,
  ...shopWords,
  ...planningWords,
  ...patchWords,
  ...inspectWords,
  ...compareWords,
  ...recordWords,
  ...teachWords,
};
