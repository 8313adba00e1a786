import type { ReactNode } from 'react';
import { Navigate, useParams } from 'react-router';
import { useAnswer } from '../../api/use-answer.ts';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';

/** Where the code on a printed label leads. */
export function LabelLanding(): ReactNode {
  const { labelCode = '' } = useParams();
  const zone = useAnswer('findZoneByLabel', { params: { labelCode } });
  if (zone.data !== undefined) return <Navigate to={`/zones/${zone.data.id}`} replace />;
  return (
    <Page title={words.label.opening}>
      <NotHereYet reading={zone} />
    </Page>
  );
}
