import type { Actor } from '../../services/people-ports.ts';
import type { KnownSession } from '../../services/open-sessions.ts';

export const actorOf = ({ person }: KnownSession): Actor => ({ id: person.id, name: person.name, role: person.role });
