import { lazy } from 'react';
import { Route } from 'react-router';

const InspectionsScreen = lazy(async () => ({
  default: (await import('./screens/inspect/inspections-screen.tsx')).InspectionsScreen,
}));
const InspectScreen = lazy(async () => ({
  default: (await import('./screens/inspect/inspect-screen.tsx')).InspectScreen,
}));

/** Where answers are looked over, compared and taught from. */
export const STUDY_ROUTES = (
  <>
    <Route path="inspect" element={<InspectionsScreen />} />
    <Route path="inspect/:assessmentId" element={<InspectScreen />} />
  </>
);
