import type { ReactNode } from 'react';
import type { UseQueryResult } from '@tanstack/react-query';
import type { CardInPhoto as Look } from '@domain/api/photos.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Icon } from '../../components/icon.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';

export const useCardInPhoto = (photoId: string): UseQueryResult<Look> =>
  useAnswer('lookForCard', { params: { photoId } }, { staleTime: Infinity });

/** Says while the phone is still beside the plate whether the card can be used. */
export function CardInPhoto({ photoId }: { photoId: string }): ReactNode {
  const look = useCardInPhoto(photoId);
  if (look.data === undefined) {
    // Where looking fails the analysis will tell.
    return look.isError ? null : (
      <p className="muted small" role="status">
        {words.round.cardLooking}
      </p>
    );
  }
  const { cornersPx, fault } = look.data;
  if (cornersPx === null) return <Notice kind="caution">{fault?.sentence ?? words.round.cardNotSeen}</Notice>;
  return (
    <p className="row small" role="status">
      <Icon name="tick" /> {words.round.cardSeen}
    </p>
  );
}
