import { lazy } from 'react';
import { Route } from 'react-router';

const InspectionsScreen = lazy(async () => ({
  default: (await import('./screens/inspect/inspections-screen.tsx')).InspectionsScreen,
}));
const InspectScreen = lazy(async () => ({
  default: (await import('./screens/inspect/inspect-screen.tsx')).InspectScreen,
}));

const ComparisonsScreen = lazy(async () => ({
  default: (await import('./screens/compare/comparisons-screen.tsx')).ComparisonsScreen,
}));
const NewComparisonScreen = lazy(async () => ({
  default: (await import('./screens/compare/new-comparison-screen.tsx')).NewComparisonScreen,
}));
const ComparisonScreen = lazy(async () => ({
  default: (await import('./screens/compare/comparison-screen.tsx')).ComparisonScreen,
}));

const LessonsScreen = lazy(async () => ({
  default: (await import('./screens/teach/lessons-screen.tsx')).LessonsScreen,
}));
const LessonScreen = lazy(async () => ({
  default: (await import('./screens/teach/lesson-screen.tsx')).LessonScreen,
}));
const NewLessonScreen = lazy(async () => ({
  default: (await import('./screens/teach/lesson-screen.tsx')).NewLessonScreen,
}));

/** Where answers are looked over, compared and taught from. */
export const STUDY_ROUTES = (
  <>
    <Route path="inspect" element={<InspectionsScreen />} />
    <Route path="inspect/:assessmentId" element={<InspectScreen />} />
    <Route path="compare" element={<ComparisonsScreen />} />
    <Route path="compare/new" element={<NewComparisonScreen />} />
    <Route path="compare/:comparisonId" element={<ComparisonScreen />} />
    <Route path="teach" element={<LessonsScreen />} />
    <Route path="teach/new" element={<NewLessonScreen />} />
    <Route path="teach/:lessonId" element={<LessonScreen />} />
  </>
);
