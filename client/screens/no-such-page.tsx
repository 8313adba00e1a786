import type { ReactNode } from 'react';
import { LinkButton } from '../components/button.tsx';
import { Page } from '../components/page.tsx';
import { words } from '../i18n/words.ts';

export function NoSuchPage(): ReactNode {
  return (
    <Page title={words.errors.noSuchPage} lead={words.errors.noSuchPageHint}>
      <div>
        <LinkButton to="/" look="primary">
          {words.check.title}
        </LinkButton>
      </div>
    </Page>
  );
}
