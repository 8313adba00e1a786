import { lazy, Suspense } from 'react';
import type { ReactNode } from 'react';
import { Route, Routes } from 'react-router';
import { NotHereYet, Waiting } from './components/waiting.tsx';
import { RECORD_ROUTES } from './record-routes.tsx';
import { CheckScreen } from './screens/check/check-screen.tsx';
import { LabelLanding } from './screens/label/label-landing.tsx';
import { NoSuchPage } from './screens/no-such-page.tsx';
import { JoinScreen } from './screens/sign-in/join-screen.tsx';
import { SetupScreen } from './screens/sign-in/setup-screen.tsx';
import { SignInScreen } from './screens/sign-in/sign-in-screen.tsx';
import { useWho } from './session/who.ts';
import { Shell } from './shell/shell.tsx';
import { PLANNING_ROUTES } from './planning-routes.tsx';
import { SHOP_ROUTES } from './shop-routes.tsx';
import { STUDY_ROUTES } from './study-routes.tsx';

/** Screens that are fetched when they are opened: the first page stays small. */
const SettingsScreen = lazy(async () => ({
  default: (await import('./screens/check/settings-screen.tsx')).SettingsScreen,
}));
const PatchScreen = lazy(async () => ({ default: (await import('./screens/patch/patch-screen.tsx')).PatchScreen }));
const PhotosScreen = lazy(async () => ({
  default: (await import('./screens/photos/photos-screen.tsx')).PhotosScreen,
}));
const OutlineScreen = lazy(async () => ({
  default: (await import('./screens/outline/outline-screen.tsx')).OutlineScreen,
}));
const WorkingScreen = lazy(async () => ({
  default: (await import('./screens/working/working-screen.tsx')).WorkingScreen,
}));
const AnswerScreen = lazy(async () => ({
  default: (await import('./screens/answer/answer-screen.tsx')).AnswerScreen,
}));
const ZoneStoryScreen = lazy(async () => ({
  default: (await import('./screens/zone-story/zone-story-screen.tsx')).ZoneStoryScreen,
}));
const LabelScreen = lazy(async () => ({
  default: (await import('./screens/label/label-screen.tsx')).LabelScreen,
}));
const ZonesScreen = lazy(async () => ({
  default: (await import('./screens/zones/zones-screen.tsx')).ZonesScreen,
}));
const NewZoneScreen = lazy(async () => ({
  default: (await import('./screens/zones/new-zone-screen.tsx')).NewZoneScreen,
}));
const JobsScreen = lazy(async () => ({ default: (await import('./screens/jobs/jobs-screen.tsx')).JobsScreen }));
const JobScreen = lazy(async () => ({ default: (await import('./screens/jobs/job-screen.tsx')).JobScreen }));
const NewJobScreen = lazy(async () => ({
  default: (await import('./screens/jobs/new-job-screen.tsx')).NewJobScreen,
}));
const MoreScreen = lazy(async () => ({ default: (await import('./screens/more/more-screen.tsx')).MoreScreen }));

export function Pages(): ReactNode {
  return (
    <Suspense fallback={<Waiting />}>
      <Routes>
        <Route path="/setup" element={<SetupScreen />} />
        <Route path="/join" element={<JoinScreen />} />
        <Route path="*" element={<SignedInPages />} />
      </Routes>
    </Suspense>
  );
}

function SignedInPages(): ReactNode {
  const who = useWho();
  if (who.data === undefined) {
    return (
      <main className="door">
        <NotHereYet reading={who} />
      </main>
    );
  }
  if (who.data.person === null) return <SignInScreen needsSetup={who.data.needsSetup} />;
  return (
    <Routes>
      <Route element={<Shell />}>
        <Route index element={<CheckScreen />} />
        <Route path="z/:labelCode" element={<LabelLanding />} />
        <Route path="zones" element={<ZonesScreen />} />
        <Route path="zones/:zoneId" element={<ZoneStoryScreen />} />
        <Route path="zones/:zoneId/check" element={<SettingsScreen />} />
        <Route path="zones/:zoneId/patch" element={<PatchScreen />} />
        <Route path="zones/:zoneId/label" element={<LabelScreen />} />
        <Route path="rounds/:roundId/photos" element={<PhotosScreen />} />
        <Route path="rounds/:roundId/zone/:role" element={<OutlineScreen />} />
        <Route path="assessments/:assessmentId" element={<AnswerScreen />} />
        <Route path="assessments/:assessmentId/progress" element={<WorkingScreen />} />
        <Route path="jobs" element={<JobsScreen />} />
        <Route path="jobs/new" element={<NewJobScreen />} />
        <Route path="jobs/:jobId" element={<JobScreen />} />
        <Route path="jobs/:jobId/new-zone" element={<NewZoneScreen />} />
        <Route path="more" element={<MoreScreen />} />
        {STUDY_ROUTES}
        {RECORD_ROUTES}
        {PLANNING_ROUTES}
        {SHOP_ROUTES}
        <Route path="*" element={<NoSuchPage />} />
      </Route>
    </Routes>
  );
}
