import type { ChangeEvent, ReactNode } from 'react';
import { useRef } from 'react';
import type { PhotoRole } from '@domain/api/photos.ts';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { urlOf } from '../../api/call.ts';
import { Button } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { CardInPhoto } from './card-in-photo.tsx';
import { useSendPhoto } from './send-photo.ts';
import type { SendingPhoto } from './send-photo.ts';

/** The place of one photo of a round: empty, on its way, or there. */
export function PhotoPlace({ round, role }: { round: ZoneRound; role: PhotoRole }): ReactNode {
  const sending = useSendPhoto(round.id, role);
  const there = round[role];
  return (
    <section className="plate stack" aria-label={words.round[role]}>
      <h2>{words.round[role]}</h2>
      {there === null ? (
        <p className="muted small">{role === 'before' ? words.round.beforeHint : words.round.afterHint}</p>
      ) : (
        <img
          className="photo-there"
          src={urlOf('readThumbnail', { params: { photoId: there.photo.id } })}
          width={there.photo.widthPx}
          height={there.photo.heightPx}
          alt={words.round.photoAlt[role]}
        />
      )}
      {role === 'before' && there !== null && round.after === null && round.number > 1 ? (
        <p className="muted small">{words.round.beforeFromLast}</p>
      ) : null}
      {there === null || sending.share !== null ? null : <CardInPhoto photoId={there.photo.id} />}
      <SendingLine sending={sending} />
      {sending.share === null ? (
        <PhotoKeys sending={sending} isThere={there !== null} isNext={nextPhoto(round) === role} role={role} />
      ) : null}
    </section>
  );
}

/** The photo to take now: it gets the key that stands out. */
function nextPhoto({ before, after }: ZoneRound): PhotoRole | null {
  if (before === null && after === null) return 'before';
  return after === null ? 'after' : null;
}

function SendingLine({ sending }: { sending: SendingPhoto }): ReactNode {
  const { share, error, cancel } = sending;
  return (
    <>
      {share === null ? null : (
        <div className="stack stack-tight">
          <progress
            className="progress"
            max={1}
            value={share}
            aria-label={words.round.sending(Math.round(share * 100))}
          />
          <p className="row apart" role="status">
            {share < 1 ? words.round.sending(Math.round(share * 100)) : words.round.checking}
          </p>
          {share < 1 ? <Button onClick={cancel}>{words.round.cancelUpload}</Button> : null}
        </div>
      )}
      {error === null ? null : (
        <Notice kind="fault">
          <strong>{words.round.broken}.</strong> {error.message}
        </Notice>
      )}
    </>
  );
}

function PhotoKeys({
  sending,
  isThere,
  isNext,
  role,
}: {
  sending: SendingPhoto;
  isThere: boolean;
  isNext: boolean;
  role: PhotoRole;
}): ReactNode {
  return (
    <div className="row">
      <FileKey
        isCamera
        look={isNext ? 'primary' : 'quiet'}
        role={role}
        word={isThere ? words.round.retake : words.round.take}
        sending={sending}
      />
      <FileKey isCamera={false} role={role} word={words.round.choose} sending={sending} />
    </div>
  );
}

function FileKey({
  isCamera,
  look = 'quiet',
  role,
  word,
  sending,
}: {
  isCamera: boolean;
  look?: 'primary' | 'quiet';
  role: PhotoRole;
  word: string;
  sending: SendingPhoto;
}): ReactNode {
  const input = useRef<HTMLInputElement>(null);
  const onChange = (event: ChangeEvent<HTMLInputElement>): void => {
    const file = event.target.files?.[0];
    event.target.value = '';
    if (file !== undefined) sending.send(file);
  };
  return (
    <>
      <input
        ref={input}
        type="file"
        accept="image/*,.heic,.heif"
        {...(isCamera ? { capture: 'environment' as const } : {})}
        hidden
        data-role={role}
        data-source={isCamera ? 'camera' : 'files'}
        onChange={onChange}
      />
      <Button
        icon={isCamera ? 'camera' : 'folder'}
        look={look}
        aria-label={`${words.round[role]}: ${word}`}
        onClick={() => {
          input.current?.click();
        }}
      >
        {word}
      </Button>
    </>
  );
}
