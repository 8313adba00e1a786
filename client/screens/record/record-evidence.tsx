import type { ReactNode } from 'react';
import type { RecordContent, ZoneRecord } from '@domain/api/records.ts';
import { urlOf } from '../../api/call.ts';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { formatMinutes } from '../../units/format-moment.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { formatNumber, formatShare, formatShareInterval } from '../../units/shown-units.ts';
import type { ShownUnits } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';

/** What was asked, and what the last round left: the largest figure of the page. */
export function AskedPlate({ content }: { content: RecordContent }): ReactNode {
  const last = content.rounds[content.rounds.length - 1];
  const { grade, correctedGrade, asked } = content;
  const units = useUnits();
  return (
    <section className="plate stack">
      <p>
        <span className="muted">{words.record.asked}</span> <strong>{`${asked.grade} (${asked.standard})`}</strong>
        <br />
        <span className="muted small">{words.record.area(asked.area)}</span>
      </p>
      <p className="record-left">
        <span className="muted">{words.record.left}</span>
        <span className="record-figure">{formatShare(last.correctedResidueAfter ?? last.residueAfter.value)}</span>
        <span className="muted">
          {last.correctedResidueAfter === null
            ? formatShareInterval(last.residueAfter)
            : words.record.correctedFrom(formatShare(last.residueAfter.value), formatShareInterval(last.residueAfter))}
        </span>
      </p>
      {grade === null ? (
        <p>{words.record.notCompared}</p>
      ) : (
        <>
          {correctedGrade === null ? null : (
            <p>
              <span className="muted">{words.record.byHand}</span>{' '}
              <strong>{words.record.decision[correctedGrade.decision]}.</strong>{' '}
              {sentenceInUnits(correctedGrade.because, units)}
            </p>
          )}
          <p>
            {correctedGrade === null ? null : <span className="muted">{`${words.record.asMeasured} `}</span>}
            <strong>{words.record.decision[grade.decision]}.</strong> {sentenceInUnits(grade.because, units)}
          </p>
        </>
      )}
    </section>
  );
}

export function RecordEvidence({ record, content }: { record: ZoneRecord; content: RecordContent }): ReactNode {
  const last = content.rounds[content.rounds.length - 1];
  const roles = last.hasBefore ? (['before', 'after'] as const) : (['after'] as const);
  return (
    <section className="stack">
      <h2>{words.record.evidence}</h2>
      <div className="record-pictures">
        {roles.map((role) => (
          <figure key={role}>
            <img
              src={urlOf('readRecordPicture', { params: { recordId: record.id, round: String(last.number), role } })}
              alt={words.record.pictureAlt(last.number, role)}
              loading="lazy"
            />
            <figcaption className="small muted">
              {words.record[role]}
              <br />
              {(content.photoTimes[role] ?? []).join('; ')}
            </figcaption>
          </figure>
        ))}
      </div>
      <RoundsTable content={content} />
      <EvidenceFacts content={content} />
      {content.warnings.map((warning) => (
        <Notice key={warning} kind="caution">
          {warning}
        </Notice>
      ))}
    </section>
  );
}

const settingsWords = ({ settings }: RecordContent['rounds'][number], units: ShownUnits): string =>
  [
    `${settings.powerW} W`,
    units.length(settings.scanWidthMm),
    `${settings.scanFrequencyHz} Hz`,
    units.speed(settings.travelSpeedMmPerS),
    `${settings.passes} ${words.settings.passesUnit(settings.passes)}`,
  ].join(', ');

function RoundsTable({ content }: { content: RecordContent }): ReactNode {
  const units = useUnits();
  return (
    <div className="table-scroll" tabIndex={0} role="region" aria-label={words.record.rounds}>
      <table className="record-rounds">
        <thead>
          <tr>
            <th scope="col">{words.record.round}</th>
            <th scope="col">{words.record.settings}</th>
            <th scope="col">{words.record.time}</th>
            <th scope="col" className="number">
              {words.record.before}
            </th>
            <th scope="col" className="number">
              {words.record.after}
            </th>
          </tr>
        </thead>
        <tbody>
          {content.rounds.map((round) => (
            <tr key={round.number}>
              <th scope="row">{round.number}</th>
              <td className="record-settings">
                {settingsWords(round, units)}
                {round.note === null ? null : (
                  <>
                    <br />
                    <span className="muted small">{round.note}</span>
                  </>
                )}
              </td>
              <td>{round.minutes === null ? words.record.notNoted : formatMinutes(round.minutes)}</td>
              <td className="number">{round.residueBefore === null ? '' : formatShare(round.residueBefore.value)}</td>
              <td className="number">
                {formatShare(round.residueAfter.value)}
                {round.correctedResidueAfter === null ? null : (
                  <>
                    <br />
                    <span className="muted small">
                      {words.record.corrected(formatShare(round.correctedResidueAfter))}
                    </span>
                  </>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function EvidenceFacts({ content }: { content: RecordContent }): ReactNode {
  const { colourErrorMedianDeltaE00: error } = content;
  const card = words.record.cardValues[content.cardValues];
  const facts: readonly (readonly [string, string])[] = [
    [words.record.machine, content.machineName],
    [words.record.card, error === null ? card : `${card}; ${words.record.colourError(formatNumber(error, 1))}`],
    [words.record.corrections, String(content.correctionCount)],
    [words.record.files, String(content.fileCount)],
  ];
  return (
    <dl className="facts">
      {facts.map(([term, fact]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{fact}</dd>
        </div>
      ))}
    </dl>
  );
}
