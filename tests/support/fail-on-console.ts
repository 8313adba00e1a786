import { afterEach, beforeEach, expect, vi } from 'vitest';

/** Console output in a test is a failure: a test speaks through its assertions. */
const METHODS = ['log', 'info', 'warn', 'error', 'debug'] as const;
let spoken: string[] = [];

beforeEach(() => {
  spoken = [];
  for (const method of METHODS) {
    vi.spyOn(console, method).mockImplementation((...words: unknown[]) => {
      spoken.push(`${method}: ${words.map(String).join(' ')}`);
    });
  }
});

afterEach(() => {
  vi.restoreAllMocks();
  expect(spoken).toEqual([]);
});
