import { failure, success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { Invited, People } from '../../services/keep-people.ts';
import type { LabelPrinter } from '../../services/label-ports.ts';
import type { OpenedSession, Sessions } from '../../services/open-sessions.ts';
import type { Call, HandledEndpointName, HandlersOf } from '../call.ts';
import type { PEOPLE_ENDPOINTS } from '../../domain/api/people-endpoints.ts';
import type { ResponseOf } from '../../domain/api/endpoints.ts';

export interface PeopleRoutesParts {
  readonly people: People;
  readonly sessions: Sessions;
  readonly programVersion: string;
  readonly labels: Pick<LabelPrinter, 'qrSvg'>;
}

type Who = ResponseOf<'readWho'>;
type Door = Pick<Call<'signIn'>, 'keepSession'>;
type Names = Extract<HandledEndpointName, keyof typeof PEOPLE_ENDPOINTS>;

export function peopleRoutes({ people, sessions, programVersion, labels }: PeopleRoutesParts): HandlersOf<Names> {
  const admitted = (opening: Outcome<OpenedSession>, { keepSession }: Door): Outcome<Who> => {
    if (!opening.ok) return opening;
    keepSession(opening.value);
    return success({ person: opening.value.person, needsSetup: false, programVersion });
  };
  /** The token follows the `#`: browsers keep that part to themselves. */
  const invitationOf = async (
    { token, expiresAt }: Invited,
    origin: string,
  ): Promise<ResponseOf<'renewInvitation'>> => {
    const link = `${origin}/join#${token}`;
    return { link, qrSvg: await labels.qrSvg(link), expiresAt };
  };
  return {
    readWho: async ({ caller }) =>
      success({ person: caller?.person ?? null, needsSetup: await people.needsSetup(), programVersion }),
    async setUp(call) {
      const making = await people.setUp(call.body);
      return making.ok ? admitted(await sessions.open(making.value.id, call.visitor), call) : making;
    },
    signIn: async (call) => admitted(await sessions.signIn(call.body, call.visitor), call),
    async signOut({ caller, forgetSession }) {
      await sessions.end(caller.sessionId);
      forgetSession();
      return success(null);
    },
    changePassword: ({ body, caller }) => sessions.changePassword(body, caller),
    listOwnSessions: async ({ caller }) => success({ items: await sessions.list(caller) }),
    revokeOwnSession: ({ params, caller }) => sessions.revoke(params.sessionId, caller),
    async lookAtInvitation({ body }) {
      const looking = await people.lookAtInvitation(body.token);
      return looking.ok ? success({ name: looking.value.name, signInName: looking.value.signInName }) : looking;
    },
    async useInvitation(call) {
      const using = await people.useInvitation(call.body.token, call.body.password);
      return using.ok ? admitted(await sessions.open(using.value.id, call.visitor), call) : using;
    },
    listPeople: async ({ query }) => success(await people.list(query)),
    async invitePerson({ body, origin }) {
      const inviting = await people.invite(body);
      if (!inviting.ok) return inviting;
      const { person, invited } = inviting.value;
      return success({ person, invitation: await invitationOf(invited, origin) });
    },
    readPerson: ({ params }) => people.read(params.personId),
    async changePerson({ params, body, caller }) {
      if (params.personId === caller.person.id && (body.isActive === false || body.role !== undefined)) {
        return failure({ code: 'state-conflict', detail: 'nobody changes their own role or switches themselves off' });
      }
      return people.change(params.personId, body);
    },
    async renewInvitation({ params, origin }) {
      const renewing = await people.renewInvitation(params.personId);
      return renewing.ok ? success(await invitationOf(renewing.value, origin)) : renewing;
    },
    revokeSessionsOfPerson: ({ params }) => people.revokeSessions(params.personId),
  };
}
