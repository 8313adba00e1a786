import type { UseQueryResult } from '@tanstack/react-query';
import { ENDPOINTS } from '@domain/api/endpoints.ts';
import type { EndpointName } from '@domain/api/endpoints.ts';
import type { Person, Who } from '@domain/api/people.ts';
import { useAnswer } from '../api/use-answer.ts';

export const useWho = (): UseQueryResult<Who> => useAnswer('readWho', {}, { staleTime: 60_000 });

/** Whether this person may call an endpoint; what they may not do is not offered. */
export function mayCall(person: Pick<Person, 'role'> | null, name: EndpointName): boolean {
  const access: 'anybody' | readonly string[] = ENDPOINTS[name].access;
  if (access === 'anybody') return true;
  return person !== null && access.includes(person.role);
}

export function useMayCall(name: EndpointName): boolean {
  const who = useWho();
  return mayCall(who.data?.person ?? null, name);
}
