import type { ReactNode } from 'react';
import { useParams } from 'react-router';
import { urlOf } from '../../api/call.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/label.css';

export function LabelScreen(): ReactNode {
  const { zoneId = '' } = useParams();
  const zone = useAnswer('readZone', { params: { zoneId } });
  if (zone.data === undefined) return <NotHereYet reading={zone} />;
  const { name, labelCode } = zone.data;
  return (
    <Page title={words.label.title(name)} above={{ to: `/zones/${zoneId}`, word: name }} lead={words.label.lead}>
      <img
        className="label"
        src={urlOf('readZoneLabel', { params: { zoneId } })}
        width="310"
        height="145"
        alt={words.label.alt(labelCode)}
      />
      <div className="actions">
        <Button
          look="primary"
          icon="print"
          onClick={() => {
            window.print();
          }}
        >
          {words.label.print}
        </Button>
      </div>
    </Page>
  );
}
