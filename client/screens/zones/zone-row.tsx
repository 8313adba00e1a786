import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { JobZone } from '@domain/api/zones.ts';
import { Standing } from '../../components/standing.tsx';
import { words } from '../../i18n/words.ts';
import { leftWords } from './left-words.ts';

/** One zone in a list: what it is called, where it stands, how much is left. */
export function ZoneRow({
  zone,
  to,
  isJobUnsaid = false,
}: {
  zone: JobZone;
  to: string;
  isJobUnsaid?: boolean;
}): ReactNode {
  const facts = [
    ...(isJobUnsaid ? [] : [zone.jobName]),
    zone.targetGrade ?? words.story.noTarget,
    words.check.rounds(zone.roundCount),
  ];
  return (
    <Link to={to} className="row-link zone-row">
      <span className="row-name">{zone.name}</span>
      <Standing standing={zone.standing} />
      <span className="muted small">{facts.join(' · ')}</span>
      <span className="muted small zone-row-left">{leftWords(zone.latest)}</span>
    </Link>
  );
}
