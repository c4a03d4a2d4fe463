import type { ComponentChildren, JSX } from 'preact';
import type { Desk } from './desk.ts';

/** Whether this desk may write practices, and change the squad and the settings. */
export const isOwners = ({ devices }: Desk): boolean => devices.own.value?.access !== 'coach';

/** What only an owner may press and fill in: on a coach's desk it is there to be read. */
export const ForOwners = ({ desk, children }: { desk: Desk; children: ComponentChildren }): JSX.Element => (
  <fieldset class="for-owners" disabled={!isOwners(desk)}>
    {children}
  </fieldset>
);
