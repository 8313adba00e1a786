import { lazy } from 'react';
import { Route } from 'react-router';

const ZoneRecordScreen = lazy(async () => ({
  default: (await import('./screens/record/record-screen.tsx')).ZoneRecordScreen,
}));
const RecordScreen = lazy(async () => ({
  default: (await import('./screens/record/record-screen.tsx')).RecordScreen,
}));
const RecordsScreen = lazy(async () => ({
  default: (await import('./screens/records/records-screen.tsx')).RecordsScreen,
}));
const CheckBundleScreen = lazy(async () => ({
  default: (await import('./screens/records/check-bundle-screen.tsx')).CheckBundleScreen,
}));
const AuditScreen = lazy(async () => ({ default: (await import('./screens/audit/audit-screen.tsx')).AuditScreen }));

/** Evidence: records, bundles to check, and the log of who did what. */
export const RECORD_ROUTES = (
  <>
    <Route path="zones/:zoneId/record" element={<ZoneRecordScreen />} />
    <Route path="records" element={<RecordsScreen />} />
    <Route path="records/check" element={<CheckBundleScreen />} />
    <Route path="records/:recordId" element={<RecordScreen />} />
    <Route path="audit" element={<AuditScreen />} />
  </>
);
