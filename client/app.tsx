import { QueryCache, QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import type { ReactNode } from 'react';
import { BrowserRouter } from 'react-router';
import { isWorthRetrying, ProblemError } from './api/problem-error.ts';
import { Pages } from './routes.tsx';

const MOST_RETRIES = 3;

const queries: QueryClient = new QueryClient({
  queryCache: new QueryCache({
    onError: (error) => {
      const isSignedOut = error instanceof ProblemError && error.isSignInNeeded;
      if (isSignedOut) void queries.invalidateQueries({ queryKey: ['readWho'] });
    },
  }),
  defaultOptions: {
    queries: {
      staleTime: 5_000,
      retry: (count, error) => count < MOST_RETRIES && isWorthRetrying(error),
    },
  },
});

export function App(): ReactNode {
  return (
    <StrictMode>
      <QueryClientProvider client={queries}>
        <BrowserRouter>
          <Pages />
        </BrowserRouter>
      </QueryClientProvider>
    </StrictMode>
  );
}
