import { Component } from 'react';
import type { ReactNode } from 'react';
import { Button } from '../components/button.tsx';
import { Notice } from '../components/notice.tsx';
import { words } from '../i18n/words.ts';

/** A screen that breaks says so and leaves the rest standing. */
export class ScreenGuard extends Component<{ children: ReactNode }, { isBroken: boolean }> {
  override state = { isBroken: false };

  static getDerivedStateFromError(): { isBroken: boolean } {
    return { isBroken: true };
  }

  override render(): ReactNode {
    if (!this.state.isBroken) return this.props.children;
    return (
      <div className="page">
        <Notice kind="fault">{words.errors.screenBroke}</Notice>
        <div>
          <Button
            onClick={() => {
              location.reload();
            }}
          >
            {words.errors.reload}
          </Button>
        </div>
      </div>
    );
  }
}
