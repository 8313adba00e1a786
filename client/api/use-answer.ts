import { keepPreviousData, useInfiniteQuery, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { InfiniteData, UseInfiniteQueryResult, UseMutationResult, UseQueryResult } from '@tanstack/react-query';
import type { EndpointNameOf, ResponseOf } from '@domain/api/endpoints.ts';
import { call } from './call.ts';
import type { Sent } from './call.ts';

type Json = EndpointNameOf<'json'>;

/** Reads one thing; pass null while it is not known yet which one. */
export function useAnswer<Name extends Json>(
  name: Name,
  sent: Sent<Name> | null,
  options: { refetchInterval?: number | false; staleTime?: number } = {},
): UseQueryResult<ResponseOf<Name>> {
  return useQuery({
    ...options,
    queryKey: [name, sent],
    queryFn: ({ signal }) => call(name, sent as Sent<Name>, signal),
    enabled: sent !== null,
  });
}

type ListName = {
  [Name in Json]: ResponseOf<Name> extends { items: unknown[]; nextCursor: string | null } ? Name : never;
}[Json];

/** Reads a list page by page; the server searches and sorts. */
export function usePages<Name extends ListName>(
  name: Name,
  sent: Sent<Name>,
): UseInfiniteQueryResult<InfiniteData<ResponseOf<Name>>> {
  return useInfiniteQuery({
    queryKey: [name, 'pages', sent],
    queryFn: ({ pageParam, signal }) => call(name, withCursor(sent, pageParam), signal),
    initialPageParam: null as string | null,
    getNextPageParam: (last) => (last as unknown as { nextCursor: string | null }).nextCursor,
    placeholderData: keepPreviousData,
  });
}

const withCursor = <Name extends Json>(sent: Sent<Name>, cursor: string | null): Sent<Name> =>
  cursor === null ? sent : ({ ...sent, query: { ...sent.query, cursor } } as unknown as Sent<Name>);

/** Changes something; whatever is on screen is read again afterwards. */
export function useChange<Name extends Json | EndpointNameOf<'empty'>>(
  name: Name,
): UseMutationResult<ResponseOf<Name>, Error, Sent<Name>> {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (sent: Sent<Name>) => call(name, sent),
    onSuccess: () => client.invalidateQueries(),
  });
}
