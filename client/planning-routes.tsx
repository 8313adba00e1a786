import { lazy } from 'react';
import { Route } from 'react-router';

const TrialsScreen = lazy(async () => ({ default: (await import('./screens/trials/trials-screen.tsx')).TrialsScreen }));
const NewTrialScreen = lazy(async () => ({
  default: (await import('./screens/trials/new-trial-screen.tsx')).NewTrialScreen,
}));
const TrialScreen = lazy(async () => ({ default: (await import('./screens/trials/trial-screen.tsx')).TrialScreen }));
const DoseScreen = lazy(async () => ({ default: (await import('./screens/dose/dose-screen.tsx')).DoseScreen }));
const QuoteScreen = lazy(async () => ({ default: (await import('./screens/quote/quote-screen.tsx')).QuoteScreen }));
const LearnedScreen = lazy(async () => ({
  default: (await import('./screens/learned/learned-screen.tsx')).LearnedScreen,
}));

/** What is worked out before and beside the work: trials, dose pictures, quotes, what was learned. */
export const PLANNING_ROUTES = (
  <>
    <Route path="trials" element={<TrialsScreen />} />
    <Route path="trials/new" element={<NewTrialScreen />} />
    <Route path="trials/:trialId" element={<TrialScreen />} />
    <Route path="dose" element={<DoseScreen />} />
    <Route path="quote" element={<QuoteScreen />} />
    <Route path="learned" element={<LearnedScreen />} />
  </>
);
